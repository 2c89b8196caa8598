"""The study of faults: for every property all minimal cut sets up to some order, with evidence."""

from __future__ import annotations

from collections.abc import Collection, Iterator, Sequence

from msgspec import Struct, structs

from verifier.diagnostics.suggest import did_you_mean
from verifier.engines.engine import Budget
from verifier.engines.near import CutSet
from verifier.evidence.translations import agree
from verifier.model.load import Loaded
from verifier.model.strikes import strikes
from verifier.report.faults import Considered, DesignFaults, Excluded, PropertyFaults
from verifier.report.faults import CutSet as ToldSet
from verifier.report.result import Mistake, Story
from verifier.studies.fault_groups import grouped
from verifier.studies.fault_questions import questions, why_not, woven_of
from verifier.studies.fault_search import Search, Standing
from verifier.studies.fault_stories import story_of
from verifier.studies.fault_words import modelling, statement
from verifier.studies.prove import UnknownName, free_to_move
from verifier.studies.sleeping import sleepers, sleeping_sets
from verifier.studies.study import used_assumptions
from verifier.studies.translated import translations
from verifier.studies.watching import Nobody, Watcher, watched


class FaultOptions(Struct, frozen=True):
    """order: of the sets asked for.   conflicts, depth: as in verifier.engines.engine.Budget, for
    each order.   stories: sets of names whose stories are told.   every_story: one of each group.
    both: compare both translations of the circuit with all its faults.   sleeping: ask also which
    faults show.
    """

    order: int = 2
    conflicts: int | None = None
    depth: int | None = None
    stories: tuple[tuple[str, ...], ...] = ()
    every_story: bool = False
    both: bool = False
    sleeping: bool = False


def faults(
    loaded: Loaded,
    options: FaultOptions | None = None,
    names: Collection[str] = (),
    watcher: Watcher | None = None,
) -> DesignFaults:
    """What is known when everything asked for is, or the budget is used up, or somebody interrupts
    (KeyboardInterrupt).

    Raises SourceError when the design's assumptions are at fault, UnknownName, and EvidenceError
    when what a search claims does not stand.
    """
    watcher = watcher or Nobody()
    with watched(watcher):
        return _Study(loaded, options or FaultOptions(), names, watcher).result()


class _Study:
    def __init__(
        self, loaded: Loaded, options: FaultOptions, names: Collection[str], watcher: Watcher
    ) -> None:
        self._loaded = loaded
        self._circuit = loaded.circuit
        self._options = options
        self._watcher = watcher
        self._strikes = strikes(loaded.circuit)
        self._numbers = self._chosen(names)
        self._asked = [
            number for number in self._numbers if not why_not(self._circuit.properties[number])
        ]
        self._wanted = tuple(map(self._set_of, options.stories))
        self._budget = self._budgeted()

    def result(self) -> DesignFaults:
        circuit, watcher = self._circuit, self._watcher
        watcher.begins(circuit.name, "its circuit with all its faults", 0, 0)
        woven = woven_of(circuit, self._strikes, self._asked)
        asked = list(questions(woven, self._asked)) if self._asked else []
        if asked:
            free_to_move(self._loaded, asked[0].system)
        compared = agree(asked[0].compiled) if asked and self._options.both else None
        search = Search(circuit, self._strikes, asked, self._options.order, self._budget, watcher)
        interrupted = False
        try:
            search.run()
        except KeyboardInterrupt:
            interrupted = True
        finally:
            search.close()
        stories = {} if interrupted else dict(self._stories(search.standings))
        slept = None
        if self._options.sleeping and not interrupted:
            watcher.begins(circuit.name, "which faults show", 0, 0)
            try:
                slept = sleepers(circuit, self._strikes, self._budget)
            except KeyboardInterrupt:
                interrupted = True
        properties = tuple(
            self._property(number, search.standings.get(number), stories)
            for number in self._numbers
        )
        return DesignFaults(
            file=next(iter(self._loaded.texts), ""),
            design=circuit.name,
            title=circuit.title,
            revision=circuit.revision,
            order=self._options.order,
            considered=tuple(
                Considered(one.name, one.words, one.passing, one.source) for one in self._strikes
            ),
            properties=properties,
            modelling=modelling(),
            excluded=tuple(
                Excluded(one.faults, one.reason, one.source) for one in circuit.exclusions
            ),
            warnings=tuple(map(Mistake.of, self._loaded.warnings)),
            interrupted=interrupted,
            translations=None if compared is None else translations([compared]),
            sleepers=slept,
            sleeping_sets=() if slept is None else sleeping_sets(slept, properties),
        )

    def _property(
        self,
        number: int,
        standing: Standing | None,
        stories: dict[tuple[int, CutSet], Story],
    ) -> PropertyFaults:
        item = self._circuit.properties[number]
        plain = PropertyFaults(item.name, item.form, item.moment, item.span, item.doc)
        if standing is None:
            return structs.replace(plain, why_not=why_not(item))
        cuts = sorted(standing.shown.values(), key=lambda one: (len(one.faults), one.faults))
        told = tuple(
            ToldSet(
                self._named(one.faults), one.label, one.steps, stories.get((number, one.faults))
            )
            for one in cuts
        )
        return structs.replace(
            plain,
            cut_sets=told,
            groups=grouped(told, [one.name for one in self._strikes]),
            orders=tuple(standing.orders),
            complete_to=standing.complete_to,
            tolerated=standing.tolerated,
            statement=statement(standing, len(self._strikes)),
            assumptions=used_assumptions(self._circuit, standing.proofs),
        )

    def _named(self, faults: CutSet) -> tuple[str, ...]:
        return tuple(self._strikes[one].name for one in faults)

    def _stories(
        self, standings: dict[int, Standing]
    ) -> Iterator[tuple[tuple[int, CutSet], Story]]:
        """Those asked for. Raises UnknownName for a set that is none of those found."""
        found: set[CutSet] = set()
        for number, standing in standings.items():
            told = list(self._wanted)
            if self._options.every_story:
                sets = sorted(standing.shown, key=lambda one: (len(one), one))
                named = tuple(ToldSet(self._named(one), "", 0) for one in sets)
                groups = grouped(named, [one.name for one in self._strikes])
                told += (sets[group.members[0]] for group in groups)
            for faults in dict.fromkeys(told):
                if faults in standing.shown:
                    found.add(faults)
                    self._watcher.begins(self._circuit.name, "stories", 0, 0)
                    chosen = [self._strikes[one] for one in faults]
                    yield (number, faults), story_of(self._circuit, chosen, number, self._budget)
        for faults in self._wanted:
            if faults not in found:
                told_names = " + ".join(self._named(faults))
                raise UnknownName(f"{told_names}: no minimal cut set of what was asked")

    def _chosen(self, names: Collection[str]) -> list[int]:
        known = [item.name for item in self._circuit.properties]
        for name in names:
            if name not in known:
                listed = ", ".join(f'"{one}"' for one in dict.fromkeys(known))
                raise UnknownName(f'there is no property "{name}"; there are {listed}')
        return [number for number, name in enumerate(known) if not names or name in names]

    def _set_of(self, names: Sequence[str]) -> CutSet:
        known = {strike.name: number for number, strike in enumerate(self._strikes)}
        for name in names:
            if name not in known:
                hint = did_you_mean(name, known)
                raise UnknownName(f'there is no fault "{name}"{"; " + hint if hint else ""}')
        return tuple(sorted({known[name] for name in names}))

    def _budgeted(self) -> Budget:
        given = {"conflicts": self._options.conflicts, "depth": self._options.depth}
        return Budget(**{name: value for name, value in given.items() if value is not None})
