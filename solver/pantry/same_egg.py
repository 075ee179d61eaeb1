"""White and yolk of one egg, which is taken and paid for once."""

from __future__ import annotations

from collections.abc import Callable, Mapping

from solver.pantry.fruit import EGG_PARTS, WHOLE_EGG, Fruit
from solver.pantry.stocked import Stocked

Rows = Callable[[str], Stocked | None]
"""What the bar has by the key of an ingredient."""
_CRUMB = 1e-6
"""mL; less than that is rounding."""


def in_eggs_of_other(amounts: Mapping[str, float], rows: Rows) -> str | None:
    """The part of an egg that is separated from the eggs of the other part anyway, where a drink
    pours both; None where it does not, or the bar does not separate eggs for them.

    `amounts` are in mL, by key.
    """
    eggs = _separated(amounts, rows)
    return min(eggs, key=lambda part: eggs[part].pieces(amounts[part])) if eggs else None


def whole_eggs(amounts: Mapping[str, float], rows: Rows) -> Mapping[str, float]:
    """The amounts of a drink with whole eggs in place of white and yolk as far as it pours both."""
    eggs = _separated(amounts, rows)
    if not eggs:
        return amounts
    number = min(egg.pieces(amounts[part]) for part, egg in eggs.items())
    found = dict(amounts)
    for part, egg in eggs.items():
        found[part] -= number * egg.juice.value * egg.usable.value
        found[WHOLE_EGG] = found.get(WHOLE_EGG, 0.0) + number * egg.weight.value / len(eggs)
    return {key: amount for key, amount in found.items() if amount > _CRUMB}


def _separated(amounts: Mapping[str, float], rows: Rows) -> Mapping[str, Fruit]:
    """The eggs of yolk and white, by the part; empty where not both are poured out of eggs."""
    found: dict[str, Fruit] = {}
    for part in reversed(EGG_PARTS):
        row = rows(part) if amounts.get(part) else None
        if row is None or row.fruit is None:
            return {}
        found[part] = row.fruit
    return found
