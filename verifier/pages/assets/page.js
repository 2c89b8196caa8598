"use strict";
(() => {
  const source = document.getElementById("playing");
  const known = source ? JSON.parse(source.textContent) : { tales: {} };
  const all = (root, what) => [...root.querySelectorAll(what)];
  const COLUMN = 36;
  let copies = 0;
  const made = (tag, look, text) => {
    const one = document.createElement(tag);
    if (look) one.className = look;
    if (text !== undefined) one.textContent = text;
    return one;
  };

  const live = (name) => {
    const holder = document.querySelector("[data-live=" + name + "]");
    return holder.content || holder;
  };

  // A drawing that any moment can be put on. Names are compared, never built into selectors.
  class Sheet {
    constructor(root, elements) {
      this.root = root;
      this.lines = all(root, "[data-volume]");
      this.symbols = all(root, ".symbol");
      this.streams = all(root, ".stream");
      const place = new Map(elements.map((name, index) => [name, index]));
      this.moving = all(root, ".moving").map((one) => [one, place.get(one.dataset.element), one.dataset.steps.split(" ")]);
      this.only = all(root, ".only").map((one) => [one, place.get(one.dataset.element), one.dataset.at.split(" ")]);
    }
    show(moment) {
      for (const line of this.lines) line.dataset.pressure = known.pressures[moment.air[line.dataset.volume]];
      for (const [one, index, steps] of this.moving) {
        const at = parseInt(moment.at[index], 36);
        one.dataset.position = at;
        one.setAttribute("transform", "translate(" + steps[at] + " 0)");
      }
      for (const [one, index, at] of this.only)
        one.classList.toggle("off", !at.includes(String(parseInt(moment.at[index], 36))));
      const ahead = new Set(moment.ahead), back = new Set(moment.back), moved = new Set(moment.moved);
      for (const one of this.streams) {
        one.classList.toggle("ahead", ahead.has(one.dataset.way));
        one.classList.toggle("back", back.has(one.dataset.way));
      }
      for (const one of this.symbols) one.classList.toggle("moved", moved.has(one.dataset.part));
    }
    mark(look, parts, supplies, lines) {
      for (const one of this.symbols)
        one.classList.toggle(look, parts.has(one.dataset.part) || supplies.has(one.dataset.supply));
      for (const one of this.lines) one.classList.toggle(look, lines.has(one.dataset.line));
    }
  }

  class Player {
    constructor(root) {
      this.root = root;
      this.tale = root.dataset.player;
      this.slider = root.querySelector("[data-slider]");
      this.place = root.querySelector("[data-place]");
      this.said = root.querySelector("[data-said]");
      this.happens = root.querySelector("[data-happens]");
      this.button = root.querySelector('[data-do="play"]');
      this.holder = root.querySelector("[data-sheet-of]");
      this.sheet = null;
      this.timer = 0;
      this.step = Number(this.slider.value);
      this.wire(root);
      for (const one of all(root, "[data-do]")) one.addEventListener("click", () => this.act(one.dataset.do));
      this.slider.addEventListener("input", () => { this.stop(); this.show(Number(this.slider.value)); });
      root.addEventListener("keydown", (event) => this.key(event));
      root.querySelector(".controls").hidden = false;
      this.cursor();
    }
    wire(root) {
      for (const one of all(root, ".events span.step")) this.upgrade(one);
      for (const strip of all(root, "[data-chart] .strip svg"))
        strip.addEventListener("click", (event) => this.clicked(strip, event));
    }
    moments() { return known.tales[this.tale].moments; }
    last() { return this.moments().length - 1; }
    upgrade(span) {
      const button = document.createElement("button");
      button.type = "button";
      button.className = "step";
      button.textContent = span.textContent;
      const item = span.closest("li");
      button.setAttribute("aria-label", "Show step " + span.textContent);
      button.addEventListener("click", () => { this.stop(); this.show(Number(item.dataset.step)); });
      span.replaceWith(button);
    }
    act(what) {
      if (!this.tale) return;
      if (what === "play") { if (this.timer) this.stop(); else this.play(); return; }
      this.stop();
      this.show({ first: 0, back: this.step - 1, on: this.step + 1, last: this.last() }[what]);
    }
    key(event) {
      if (event.altKey || event.ctrlKey || event.metaKey || event.shiftKey) return;
      if (["INPUT", "SELECT"].includes(event.target.tagName)) return;
      if (event.target.classList.contains("scroll")) return;
      const what = { ArrowLeft: "back", ArrowRight: "on", Home: "first", End: "last" }[event.key];
      if (!what) return;
      event.preventDefault();
      this.act(what);
    }
    clicked(strip, event) {
      this.stop();
      this.show(Math.floor((event.clientX - strip.getBoundingClientRect().left) / COLUMN));
    }
    play() {
      if (this.step >= this.last()) this.show(0);
      this.button.setAttribute("aria-pressed", "true");
      this.button.setAttribute("aria-label", "Pause");
      this.timer = setInterval(() => {
        if (this.step < this.last()) this.show(this.step + 1);
        if (this.step >= this.last()) this.stop();
      }, 1400);
    }
    stop() {
      clearInterval(this.timer);
      this.timer = 0;
      this.button.setAttribute("aria-pressed", "false");
      this.button.setAttribute("aria-label", "Play");
    }
    drawing() {
      if (!this.sheet && this.holder) {
        const on = known.tales[this.tale].on;
        const old = this.holder.querySelector("svg");
        copies += 1;
        const sheets = all(live(on), "svg").map((svg) => {
          const copy = svg.cloneNode(true);
          for (const one of all(copy, "[id]")) one.id = "copy-" + copies + "-" + one.id;
          for (const one of all(copy, "a[href^='#']"))
            one.setAttribute("href", "#copy-" + copies + "-" + one.getAttribute("href").slice(1));
          if (old) [copy.style.width, copy.style.minWidth] = [old.style.width, old.style.minWidth];
          return copy;
        });
        this.holder.replaceChildren(...sheets);
        this.holder.closest(".view").hidden = false;
        this.sheet = new Sheet(this.holder, known.drawings[on]);
      }
      return this.sheet;
    }
    cursor() {
      for (const one of all(this.root, ".cursor")) one.setAttribute("x", String(this.step * COLUMN));
      const told = [];
      for (const item of all(this.root, ".events li[data-step]")) {
        const current = Number(item.dataset.step) === this.step;
        item.classList.toggle("current", current);
        if (current) item.setAttribute("aria-current", "step"); else item.removeAttribute("aria-current");
        if (current) told.push(item.querySelector("p"));
      }
      return told;
    }
    show(step) {
      this.step = Math.max(0, Math.min(this.last(), step));
      const words = "Step " + this.step + " of " + this.last();
      this.slider.max = String(this.last());
      this.slider.value = String(this.step);
      this.slider.setAttribute("aria-valuetext", words);
      this.place.textContent = words;
      const told = this.cursor();
      const words_of = this.step ? told : ["The start, before anything happens."];
      this.happens.replaceChildren(...(words_of.length ? words_of : ["What both ways share."]).map((one) =>
        typeof one === "string" ? made("p", "", one) : one.cloneNode(true)));
      const moment = this.moments()[this.step];
      const sheet = this.drawing();
      if (sheet) sheet.show(moment);
      this.said.replaceChildren(...moment.said.map(([name, value]) => {
        const row = made("div");
        row.append(made("dt", "", name), made("dd", "", value));
        return row;
      }));
    }
  }

  const players = new Map();
  const choosing = document.querySelector("[data-choosing]");
  for (const root of all(document, "[data-player]")) players.set(root, new Player(root));
  for (const one of all(document, "details"))
    one.addEventListener("toggle", () => {
      const root = one.open && one.querySelector(":scope > [data-player]");
      if (root) players.get(root).show(players.get(root).step);
    });

  if (choosing) {
    const player = players.get(choosing);
    const here = choosing.querySelector("[data-events-here]");
    choosing.hidden = false;
    for (const one of all(document, ".choose")) one.hidden = false;
    const buttons = all(document, "[data-choose]");
    for (const button of buttons) {
      button.setAttribute("aria-pressed", "false");
      button.addEventListener("click", () => {
        player.stop();
        for (const other of buttons) other.setAttribute("aria-pressed", String(other === button));
        choosing.querySelector("[data-chosen]").textContent = button.dataset.words;
        player.tale = button.dataset.choose;
        const list = made("ol", "events");
        for (const line of known.told[player.tale]) {
          const item = made("li", "by-" + line.by);
          item.dataset.step = line.step;
          const text = made("p", "", line.words);
          text.append(made("span", "cause", line.cause ? ": " + line.cause + "." : "."));
          const rest = made("div");
          rest.append(text, ...line.air.map((one) => made("p", "air", one)));
          item.append(made("span", "step", line.label), rest);
          list.append(item);
        }
        here.replaceChildren(list, made("p", "outcome bad", known.ends[player.tale]));
        player.wire(here);
        player.show(player.last());
        const names = (what) => new Set(JSON.parse(button.dataset[what]));
        player.sheet.mark("emphasised", names("parts"), names("supplies"), names("lines"));
      });
    }
  }

  const shade = document.querySelector("[data-shade]");
  if (shade) {
    const sheet = new Sheet(live("main"), known.drawings.main);
    const told = document.querySelector("[data-shaded]");
    const none = new Set();
    shade.closest(".shade").hidden = false;
    shade.addEventListener("change", () => {
      const one = shade.value === "" ? null : known.shades[Number(shade.value)];
      const names = (what) => (one ? new Set(one[what]) : none);
      for (const svg of all(sheet.root, "svg")) svg.classList.toggle("shaded", Boolean(one));
      sheet.mark("core", names("parts"), none, names("lines"));
      sheet.mark("tight", names("tight_parts"), none, names("tight_lines"));
      told.textContent = one
        ? one.parts.length + " parts and " + one.lines.length + " lines; of " +
          (one.tight_parts.length + one.tight_lines.length) + " more it asks only that they are tight"
        : "";
    });
  }

  for (const group of all(document, ".zoom")) {
    const holder = group.closest(".under").previousElementSibling;
    let size = 1;
    group.hidden = false;
    for (const button of all(group, "[data-zoom]"))
      button.addEventListener("click", () => {
        const by = Number(button.dataset.zoom);
        size = by ? Math.max(0.5, Math.min(8, size * by)) : 1;
        for (const svg of all(holder, "svg")) {
          svg.style.width = size * 100 + "%";
          svg.style.minWidth = "0";
        }
      });
  }
  const search = document.querySelector("[data-search]");
  if (search) {
    const rows = all(document, "[data-row]");
    const words = search.querySelector("[data-words]");
    const status = search.querySelector("[data-status]");
    const found = search.querySelector("[data-found]");
    search.hidden = false;
    const filter = () => {
      const wanted = words.value.toLowerCase().split(/\s+/).filter(Boolean);
      let count = 0;
      for (const row of rows) {
        const stands = row.dataset.row;
        const fits = (!status.value || (status.value === "!" ? stands !== "approved" : stands === status.value)) &&
          wanted.every((word) => row.dataset.text.includes(word));
        row.hidden = !fits;
        count += fits;
      }
      found.textContent = count === rows.length ? count + " designs" : count + " of " + rows.length + " designs";
    };
    words.addEventListener("input", filter);
    status.addEventListener("change", filter);
    search.addEventListener("submit", (event) => event.preventDefault());
    filter();
  }
  document.documentElement.dataset.ready = "yes";
})();
