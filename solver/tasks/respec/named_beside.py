"""What the texts of a spec name beside its pours: its garnish, its steps, its notes."""

from __future__ import annotations

from solver.pantry.bar import Bar
from solver.pantry.spec import Spec


def named_beside(spec: Spec, bar: Bar) -> frozenset[str]:
    """The keys of what the garnish, the steps and the notes of a spec name and no pour of it is.

    Fruit that is cut is named by itself, and not by its juice.
    """
    poured = {bar.bottles.find(pour.ingredient).key for pour in spec.pours}
    named: set[str] = set()
    if spec.garnish:
        taken = bar.garnishes.taken(spec.garnish)
        rest = (bar.mentions.garnish(said).holds for said in taken.uncounted)
        named |= {*taken.amounts, *(key for holds in rest for key in holds)}
    if spec.steps:
        named |= bar.mentions.steps(spec.written_steps, poured).holds
    if spec.notes:
        named |= bar.mentions.notes(spec.notes, poured).holds
    return frozenset(named - poured)
