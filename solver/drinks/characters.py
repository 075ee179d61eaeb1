"""The characters of a drink, the most distinctive first."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence

from solver.harmony.counted import load_counts
from solver.harmony.taste import BarTaste
from solver.harmony.words import said_of
from solver.pantry.bar import Bar
from solver.pantry.ingredient import Ingredient
from solver.pantry.pour import Pour
from solver.requests.character_amounts import usually_poured

DULL = frozenset({"grain", "cane", "egg", "dairy", "saline"})
"""Characters that nobody orders a drink for."""

MOST = 3
"""People name three or four odours in a mixture (Laing & Glemarec 1992, from an abstract)."""

LEADING = 2
"""So many are what is peculiar to the drink, so that what most of it is has a word too: our own
choice."""

BASE = "spirit"
SHARED = 0.75
"""What a spirit counts: most drinks share theirs with many others. Our own choice."""

BITTER = "liqueur/bitter"
BITTERSWEET = 0.15
"""Share of a bitter liqueur in all that is poured, from which a sweet drink tastes bitter too: our
own choice. A sixth of it is half an ounce in three."""

WITHIN = {"nut": "almond"}
"""Characters that say nothing beside a narrower one."""


def characters_of(
    lines: Sequence[Pour], bar: Bar, leaves: Sequence[Ingredient] = ()
) -> tuple[str, ...]:
    """At most a few characters of a drink: first those of leaves that are bruised in it and of
    house ingredients, then rare ones, then the main one.

    A character is weighted by usual pours of the ingredients that have it, not by millilitres, as
    every drink would otherwise taste of its base alone; by how seldom published drinks pour them;
    and less if an ingredient's file lists other characters before it.
    """
    taste = BarTaste(said=said_of([line.ingredient for line in lines], bar.library, bar.measures))
    house = _ranked((line for line in lines if _of_the_house(line.ingredient, bar)), taste)
    bulk = max(lines, key=lambda line: line.amount if _tags(line.ingredient) else 0.0)
    bruised = [tag for item in leaves for tag in _tags(item)]
    peculiar = tuple(dict.fromkeys((*bruised, *house[:LEADING], *_ranked(lines, taste))))
    return tuple(dict.fromkeys((*peculiar[:LEADING], *_tags(bulk.ingredient)[:1], *peculiar)))[
        :MOST
    ]


def is_bittersweet(lines: Sequence[Pour]) -> bool:
    """Whether so much bitter liqueur is poured that sugar does not make the drink taste sweet."""
    measured = [line for line in lines if line.ingredient.per == "ml"]
    bitter = sum(line.amount for line in measured if line.ingredient.is_kind(BITTER))
    return bitter > 0 and bitter >= BITTERSWEET * sum(line.amount for line in measured)


def _ranked(lines: Iterable[Pour], taste: BarTaste) -> list[str]:
    weights: dict[str, float] = {}
    for line in lines:
        item = line.ingredient
        weight = line.amount / usually_poured(item, taste, line.amount) * _seldom(item, taste)
        for at, tag in enumerate(_tags(item), start=1):
            weights[tag] = weights.get(tag, 0.0) + weight / at
    return sorted(weights, key=lambda tag: -weights[tag])


def _tags(item: Ingredient) -> tuple[str, ...]:
    """The characters of an ingredient that are worth naming."""
    said = item.character
    return tuple(tag for tag in said if tag not in DULL and WITHIN.get(tag) not in said)


def _seldom(item: Ingredient, taste: BarTaste) -> float:
    """The information in pouring an ingredient: -log of the share of published drinks that do."""
    counts = load_counts()
    poured = counts.poured.get(counts.flavour(taste.of(item.key).like or item.key), 0)
    told = math.log((counts.drinks + 1) / (poured + 1))
    return told * SHARED if item.is_kind(BASE) else told


def _of_the_house(item: Ingredient, bar: Bar) -> bool:
    return item.key in bar.house or bar.recipe(item.key) is not None
