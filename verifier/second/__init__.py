"""The second translation of a circuit into formulas, made from grammar/REFERENCE.md alone."""
