"""The oddness of an amount: its distance from the usual pour, and from the lines of a jigger.

The usual pour is what the bar says of its own ingredient, else what the profile says of its part,
else what published drinks pour. Oddness decides between drinks that nobody would tell apart, so
that 2 : 3/4 : 3/4 comes before 1 3/4 : 5/8 : 3/4.
"""

from __future__ import annotations

import math
from collections.abc import Sequence

from solver.harmony.counts import Counts
from solver.harmony.taste import BarTaste
from solver.pantry.bar import Bar
from solver.pantry.ingredient import Ingredient

TWICE_AS_MUCH = 4.0
"""Oddness of twice or half the usual amount; it grows with the square of the logarithm."""
FRACTIONS = ((0.5, 0.0), (0.25, 0.25), (0.125, 1.0))
"""Oddness of fractions of an ounce: none of wholes and halves, little of quarters, eighths most."""
MILLILITRES = ((15.0, 0.0), (10.0, 0.1), (5.0, 0.25), (2.5, 1.0))
"""The same for jiggers in millilitres: 15, 30, 45; then tens, fives, halves of five."""
ODDEST = 1.5
"""Oddness of an amount for which a jigger has no line."""
OTHER_BOTTLE = 0.5
"""Oddness of what only passes for an ingredient, as bottled juice does for fresh."""
PLAIN_SYRUP, PLAIN_SUGAR_G_100ML = "simple-syrup", 61.5
"""Sugar in syrup of 1:1 by weight: half of its weight, at 1.23 g/mL."""
MOST_SYRUP_ML = 30.0
"""An ounce of cordial is a usual pour, more is not: common practice, no source."""
DIGITS = 6


def usual_amount(
    item: Ingredient, in_part: float | None, counts: Counts, taste: BarTaste
) -> float | None:
    """How much of an ingredient is usual, in its own unit; None where nothing is known."""
    said = taste.of(item.key).usual_ml
    if said is not None:
        return said
    if in_part is not None:
        return in_part
    counted = counts.pours.get(item.key) or counts.pours.get(item.kind)
    books = counted.usual_ml if counted and item.per == "ml" else None
    return as_sweet(item, item.key, counts) or books


def as_sweet(item: Ingredient, flavour: str, counts: Counts) -> float | None:
    """How much of a syrup that no published drink pours sweetens like their usual plain syrup, mL;
    None of anything else.

    Books pour few drops of a fruit syrup beside another sweetener; a house's own is the sweetener.
    """
    if not item.is_kind("syrup") or item.per != "ml" or item.sugar.value <= 0:
        return None
    if counts.poured.get(flavour) or counts.flavour(flavour) != flavour:
        return None
    plain = counts.pours[PLAIN_SYRUP]
    as_much = plain.usual_ml * PLAIN_SUGAR_G_100ML / item.sugar.value
    return min(MOST_SYRUP_ML, max(plain.low_ml, as_much))


def oddness(
    item: Ingredient, tool: str, amounts: Sequence[float], usual: float | None, counts: Counts,
    bar: Bar, *, named: bool = False,
) -> tuple[float, ...]:  # fmt: skip
    """How unusual each amount is, from 0; rounded, so that equal sums are equal.

    What the profile has `named` is itself, whatever it counts as.
    """
    passes = not named and counts.alike.get(item.key, item.key) != item.key
    other = OTHER_BOTTLE if passes else 0.0
    return tuple(
        round(other + _far(amount, usual) + _odd(amount, tool, bar), DIGITS) for amount in amounts
    )


def _far(amount: float, usual: float | None) -> float:
    return TWICE_AS_MUCH * math.log2(amount / usual) ** 2 if usual else 0.0


def _odd(amount: float, tool: str, bar: Bar) -> float:
    """Oddness of an amount by the lines of a jigger; 0 for other tools."""
    if tool != "jigger":
        return 0.0
    ounces = bar.pour_set.unit == "oz"
    unit = bar.measures.ounce_ml if ounces else 1.0
    for step, counts in FRACTIONS if ounces else MILLILITRES:
        lines = amount / unit / step
        if abs(lines - round(lines)) < 1e-6:
            return counts
    return ODDEST
