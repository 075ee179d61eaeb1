"""How a plan gets more of something: bought, cooked, pressed or made, in whole units."""

from __future__ import annotations

import enum
import math
from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from typing import Final

from solver.kitchen.batch import measured
from solver.pantry.bar import Bar
from solver.pantry.bottled import is_sold, made_here
from solver.pantry.fruit import WHOLE_EGG, Fruit, egg_by_part, fruit_by_juice
from solver.pantry.ingredient import Ingredient
from solver.pantry.stocked import Stocked
from solver.tasks.plan.hours import Hours, hours_of
from solver.tasks.prep import Prep, find_recipe, prepare
from solver.tasks.prep.amount_to_make import read_amount
from solver.tasks.price.unit_prices import UnitPrices

ASSUMED_BOTTLE: Final = 700.0
"""What a bottle holds where the shelf does not say, mL: common practice, no source."""
ASSUMED_JAR_G: Final = 500.0
"""What a jar of honey, or of what else is sold by weight, holds, g: common practice, no source."""
ASSUMED_EGGS: Final = 10
"""Eggs in a carton: common practice, no source."""
ASSUMED_BAG: Final = 1000.0
"""What a bag holds, g; of kinds that come in less, `ASSUMED_BAGS`: common practice, no source."""
ASSUMED_BAGS: Final = {
    "raw/spice": 100.0,
    "raw/herb": 100.0,
    "raw/gum": 100.0,
    "raw/tea": 250.0,
    "raw/fat": 250.0,
    "acid": 500.0,
}


@enum.unique
class SupplyWay(enum.Enum):
    """How more of an item is had."""

    BUY = "buy"
    COOK = "cook"
    """By its recipe."""
    PRESS = "press"
    """From fruit."""
    SEPARATE = "separate"
    """From eggs."""
    MAKE = "make"
    """In the house, which has no recipe of it."""
    MIX = "mix"
    """Serve by serve, when it is poured: so a drink goes on whose batch is empty."""


@dataclass(frozen=True)
class Supply:
    """A supply in whole units of `unit` mL or g.

    `keeps` are days after the day it is opened or made, None where nobody has said. `price` is of a
    unit, None where it is not known; `takes` is what a unit is made from, by key, in mL or g. Of
    what is bought a unit is `case` bottles, which come together and are opened one by one; `full`
    are bottles on the shelf that nobody has opened.
    """

    how: SupplyWay
    unit: float
    keeps: int | None
    price: float | None
    assumed_size: bool = False
    full: int = 0
    case: int = 1
    supplier: str = ""
    hours: Hours | None = None
    takes: Mapping[str, float] = field(default_factory=dict)
    prep: Prep | None = None
    batches: float = 1.0
    """How many batches of the recipe as it was weighed a unit is."""
    fills: float = 1.0
    """The volume of what goes in, in that of what comes out; 1 at least."""
    fruit: Fruit | None = None
    """What it is pressed from, or what it is: a unit is one piece, or what one gives."""

    @property
    def bottle(self) -> float:
        """What is opened at once, in mL or g."""
        return self.unit / self.case


def is_from_tap(ingredient: Ingredient) -> bool:
    """Whether it is tap water, which no plan counts."""
    return ingredient.is_kind("water")


def supply_of(
    key: str, size: str | None, row: Stocked | None, bar: Bar
) -> tuple[Supply, Ingredient]:
    """How more is had of the thing of a key, and the thing as an ingredient.

    `size` is how much one batch of its recipe makes, as written; as weighed if it is None. `row` is
    its row of the shelf, if there is one.

    Raises:
        BadInput, BadInputs: its recipe is wrong, or the size can't be read.
    """
    if key in bar.recipes:
        prep = prepare(find_recipe(key, bar), bar, bar.today)
        ingredient = row.ingredient if row else prep.ingredient
        return _cooked(prep, size, ingredient, bar), ingredient
    ingredient = bar.bottles.find(key)
    fruits = fruit_by_juice(bar.library)
    if key in fruits and not is_sold(ingredient, row):
        return _pressed(fruits[key], ingredient, bar), ingredient
    egg = _egg_of(key, bar)
    if egg is not None:
        return _pressed(egg, ingredient, bar), ingredient
    whole = next((fruit for fruit in fruits.values() if fruit.key == key), None)
    if whole is not None and _by_itself(whole, row):
        return _by_the_piece(whole, row, bar), ingredient
    made = key in bar.house or made_here(ingredient, row)
    bottle = row.bottle if row else None
    case = row.case if row and not made else 1
    unit = (bottle or _assumed(ingredient)) * case
    price = row.price_per_unit if row else None
    return Supply(
        how=SupplyWay.MAKE if made else SupplyWay.BUY,
        unit=unit,
        keeps=_days((row or Stocked(ingredient)).life_days),
        price=None if price is None else price * unit,
        assumed_size=bottle is None,
        case=case,
        supplier=row.supplier if row else "",
    ), ingredient


def _egg_of(key: str, bar: Bar) -> Fruit | None:
    """The egg that more of a white or a yolk is separated from; None where it is bought by the
    bottle: it has a price or a supplier, or the shelf lists it and no eggs in their shells."""
    there = bar.stocked(key)
    if there is not None and there.fruit is not None:
        return there.fruit
    eggs, own = (bar.shelf.row(each) if bar.shelf else None for each in (WHOLE_EGG, key))
    bottled = own is not None and (own.price is not None or bool(own.supplier) or eggs is None)
    if bottled or (eggs is not None and not eggs.in_shell):
        return None
    return egg_by_part(bar.library).get(key)


def _assumed(ingredient: Ingredient) -> float:
    """The usual content of a bottle, carton or bag of it, in its own unit."""
    if ingredient.per == "ml" and ingredient.loose:
        return ASSUMED_EGGS * ingredient.counted_in[0]
    if ingredient.per == "ml" and ingredient.sold_by == "weight":
        return ASSUMED_JAR_G / ingredient.weight_g(1.0)
    if ingredient.per == "ml":
        return ASSUMED_BOTTLE
    bags = (size for kind, size in ASSUMED_BAGS.items() if ingredient.is_kind(kind))
    return next(bags, ASSUMED_BAG)


def _by_itself(fruit: Fruit, row: Stocked | None) -> bool:
    """Whether fruit is bought by the piece: the shelf has no bag of it, or calls one piece so."""
    if row is None or row.bottle is None:
        return True
    return row.case == 1 and math.isclose(row.bottle, fruit.weight.value)


def _pressed(fruit: Fruit, juice: Ingredient, bar: Bar) -> Supply:
    """The supply of a juice, or of a part of an egg: its unit is what one piece gives."""
    unit = fruit.juice.value * fruit.usable.value
    found = UnitPrices(bar).of(juice.key)
    return Supply(
        how=SupplyWay.SEPARATE if fruit.key == WHOLE_EGG else SupplyWay.PRESS,
        unit=unit,
        keeps=_days(juice.life_days),
        price=None if found is None else unit * found.price,
        takes={fruit.key: fruit.weight.value},
        fruit=fruit,
    )


def _by_the_piece(fruit: Fruit, row: Stocked | None, bar: Bar) -> Supply:
    """The supply of fruit by the piece, at the price that `tasks.price` has of it."""
    found = UnitPrices(bar).of(fruit.key)
    return Supply(
        how=SupplyWay.BUY,
        unit=fruit.weight.value,
        keeps=_days(fruit.ingredient.life_days),
        price=None if found is None else found.price * fruit.weight.value,
        fruit=fruit,
        supplier=row.supplier if row else "",
    )


def _cooked(prep: Prep, size: str | None, ingredient: Ingredient, bar: Bar) -> Supply:
    figures = prep.figures
    times = 1.0
    if size is not None:
        amount = read_amount(size, prep.recipe.key, bar)
        times = amount.factor(figures.volume_ml.value, figures.mass_g.value)
    # What goes in comes off the shelf, or is bought: it has its price there.
    takes: dict[str, float] = {}
    for put in prep.puts:
        inside = bar.bottles.get(put.key)
        if inside is None or not is_from_tap(inside):
            takes[put.key] = takes.get(put.key, 0.0) + times * put.units
    lives = [life for life in (_days(ingredient.life_days), prep.keeping.life.days) if life]
    return Supply(
        how=SupplyWay.COOK,
        unit=times * figures.volume_ml.value,
        keeps=min(lives, default=None),
        price=None if prep.cost is None else times * prep.cost,
        hours=hours_of(prep.recipe, bar.measures),
        takes=takes,
        prep=prep,
        batches=times,
        fills=max(1.0, _volume_in(prep, bar) / figures.volume_ml.value),
    )


def _volume_in(prep: Prep, bar: Bar) -> float:
    """The volume of all that goes into a batch, mL; raw stuff takes the room of as much water,
    which is more than most of it does: our own choice."""
    cooking = prep.numbers.cooking
    raw = [bar.bottles.find(put.key).is_kind("raw") for put in prep.numbers.puts]
    pairs = list(zip(cooking.inputs, raw, strict=True))
    liquid = replace(cooking, inputs=tuple(i for i, is_raw in pairs if not is_raw), steps=())
    volume_ml = float(measured(liquid.everything()).volume_ml) if liquid.inputs else 0.0
    return volume_ml + math.fsum(each.grams for each, is_raw in pairs if is_raw)


def _days(life: float | None) -> int | None:
    return None if life is None else int(life)
