"""The rule book: one rule a module, in topic folders, found by :mod:`specgen.rules.book`."""
