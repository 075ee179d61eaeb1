"""How much of a character an ingredient carries, in usual pours.

What an ingredient tastes of stands in its file. Of a house ingredient that says nothing of it,
nothing is known: it counts as none.
"""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import replace

from solver.harmony.counted import load_counts
from solver.harmony.taste import BarTaste
from solver.measures import Measure
from solver.pantry.bar import Bar
from solver.pantry.ingredient import Ingredient
from solver.pantry.profile import PartPours
from solver.requests.allowed_pours import Pourables
from solver.requests.pour_oddness import as_sweet
from solver.requests.read_character import tastes_of
from solver.search.problem import Candidate


def with_characters(
    candidates: Iterable[Candidate], characters: Iterable[Measure], pourables: Pourables
) -> tuple[Candidate, ...]:
    """Candidates, each with what it carries of some characters."""
    find, wanted = pourables.bar.bottles.find, tuple(characters)
    if not wanted:
        return tuple(candidates)
    return tuple(
        replace(each, carries=_carries(find(each.ingredient), pourables, each.part, wanted))
        for each in candidates
    )


def _carries(
    item: Ingredient, pourables: Pourables, part: int, wanted: Iterable[Measure]
) -> tuple[tuple[str, float], ...]:
    """How much of a usual pour a unit of an ingredient is, for each character that it carries."""
    names = [measure.name for measure in wanted if tastes_of(item, measure.tags)]
    usual = usual_pour(item, pourables.pours[part], pourables.taste) if names else 1.0
    return tuple((name, 1.0 / usual) for name in names)


def usual_pour(item: Ingredient, in_part: PartPours, taste: BarTaste) -> float:
    """A usual pour of an ingredient, in its own unit: what its character is counted in.

    What the bar says of it; else, of a spirit that a drink rests on, what is usual in the part:
    published drinks pour it beside another one, too; else what those pour of it, or of its kind;
    else the middle of the part's range. Of something loud it is no more than is poured beside
    others.
    """
    middle = math.sqrt(in_part.each.low * in_part.each.high)
    base = in_part.usual is not None and item.is_kind("spirit")
    return usually_poured(item, taste, in_part.usual or middle, base=base)


def usually_poured(item: Ingredient, taste: BarTaste, here: float, *, base: bool = False) -> float:
    """The same where it is usual to pour `here` of something of which nobody says anything.

    With `base` a drink rests on it, and what is usual here is the least.
    """
    said, counts = taste.of(item.key), load_counts()
    if said.usual_ml is not None:
        return said.usual_ml
    if item.per != "ml":
        return here
    flavour = counts.flavour(said.like or item.key)
    counted, sweet = counts.usual_pour(flavour, item.kind), as_sweet(item, flavour, counts)
    most = counts.most_ml(item.key)
    least = here if base and most is None else 0.0
    usual = sweet or (here if counted is None else max(counted.usual_ml, least))
    return min(usual, most or math.inf)


def not_said(items: Iterable[Ingredient], bar: Bar) -> tuple[Ingredient, ...]:
    """What of some ingredients the house makes without saying what it tastes of."""
    return tuple(item for item in items if item.key in bar.own and not item.character)
