"""The supplies of a plan: the bar's stock, and ways to have more."""

from __future__ import annotations

import enum
import math
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, field, replace
from datetime import date, timedelta
from typing import Final

from solver.drinks.mixed_ahead import MixedAhead
from solver.errors import BadInput
from solver.kitchen.batch import measured
from solver.pantry.bar import Bar
from solver.pantry.bottled import is_sold, made_here
from solver.pantry.fruit import WHOLE_EGG, Fruit, egg_by_part, fruit_by_juice
from solver.pantry.ingredient import Ingredient
from solver.pantry.stocked import Stocked
from solver.tasks.plan.hours import Hours, hours_of
from solver.tasks.plan.standing_batches import serve_ml
from solver.tasks.prep import Prep, find_recipe, prepare
from solver.tasks.prep.amount_to_make import read_amount
from solver.tasks.price.unit_prices import UnitPrices

ASSUMED_PRICE: Final = 0.01
"""What a millilitre or gram without a price counts for, in the bar's currency, when plans are
compared: no drop is taken for worthless because nobody has priced it. It is in no sum that is
told."""
ASSUMED_BOTTLE: Final = 700.0
"""What a bottle holds where the shelf does not say, mL: common practice, no source."""
ASSUMED_JAR_G: Final = 500.0
"""What a jar of honey, or of what else is sold by weight, holds, g: common practice, no source."""
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


@dataclass(frozen=True)
class ItemLot:
    """An amount in mL or g, with the first and the last day to pour it; None: nobody has said."""

    amount: float
    last: date | None = None
    first: date | None = None


@dataclass(frozen=True)
class Item:
    """Something that drinks or recipes take: its stock, and its supply.

    `past` is past its last day; `untold` is true if the shelf does not state the amount,
    `older` of a drink that was mixed by another recipe than its spec is now.
    """

    ingredient: Ingredient
    lots: tuple[ItemLot, ...]
    supply: Supply
    worth: float
    """Of one mL or g, in the bar's currency; by `ASSUMED_PRICE` where `priced` is false."""
    priced: bool
    past: Stocked | None = None
    untold: bool = False
    older: bool = False

    @property
    def key(self) -> str:
        """The key of its ingredient."""
        return self.ingredient.key


def items_for(
    keys: Iterable[str],
    batches: Mapping[str, str],
    mixed: Iterable[MixedAhead],
    bar: Bar,
    days: int,
) -> dict[str, Item]:
    """The items that drinks take, with the inputs of what is cooked or mixed, by key.

    `batches` says how much one batch of a recipe makes; `mixed` are drinks that stand mixed; `days`
    is the length of the plan.

    Raises:
        BadInput, BadInputs: a recipe is wrong, or a batch can't be read or has no recipe.
    """
    sizes = {find_recipe(name, bar).key: text for name, text in batches.items()}
    found = {each.key: _stands_mixed(each, bar) for each in mixed}
    open_ends = [*keys, *(key for item in found.values() for key in item.supply.takes)]
    while open_ends:
        key = open_ends.pop(0)
        if key not in found:
            found[key] = _item(key, sizes.get(key), bar, days)
            open_ends += found[key].supply.takes
    return found


def is_from_tap(ingredient: Ingredient) -> bool:
    """Whether it is tap water, which no plan counts."""
    return ingredient.is_kind("water")


def _item(key: str, size: str | None, bar: Bar, days: int) -> Item:
    row, past = _listed(bar.stocked(key)), _listed(bar.past_row(key))
    supply, ingredient = _supply(key, size, row, bar)
    good = None if past is not None or (row and row.waiting(bar.today)) else row
    lots, full = _lots(good, supply, bar.today, days)
    worth = _worth(row, supply)
    return Item(
        ingredient=ingredient,
        lots=(*lots, *_standing_lots(key, bar)),
        supply=replace(supply, full=full),
        worth=ASSUMED_PRICE if worth is None else worth,
        priced=worth is not None,
        past=past,
        untold=good is not None and good.on_hand is None and bar.shelf is not None,
    )


def _stands_mixed(mixed: MixedAhead, bar: Bar) -> Item:
    """A batch; what is missing of it is mixed by the serve, of what is in it but water."""
    price = mixed.row.price_per_unit
    takes = {
        key: each for key, each in mixed.inside.items() if not is_from_tap(bar.bottles.find(key))
    }
    return Item(
        ingredient=mixed.row.ingredient,
        lots=tuple(
            ItemLot(lot.on_hand or 0.0, lot.use_by)
            for lot in mixed.row.lots
            if not lot.past(bar.today)
        ),
        supply=Supply(SupplyWay.MIX, serve_ml(mixed), keeps=0, price=None, takes=takes),
        worth=ASSUMED_PRICE if price is None else price,
        priced=price is not None,
        older=mixed.older,
    )


def _listed(row: Stocked | None) -> Stocked | None:
    """A row, unless it is juice yet to be pressed: a plan counts that as its fruit."""
    return None if row is not None and row.fruit is not None else row


def _supply(key: str, size: str | None, row: Stocked | None, bar: Bar) -> tuple[Supply, Ingredient]:
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
    bottle, or the bar has no eggs."""
    there = bar.stocked(key)
    if there is None:
        return None
    if there.fruit is not None:
        return there.fruit
    eggs = bar.shelf.row(WHOLE_EGG) if bar.shelf is not None else None
    bottled = there.price is not None or bool(there.supplier)
    return (
        None if eggs is None or not eggs.in_shell or bottled else egg_by_part(bar.library).get(key)
    )


def _assumed(ingredient: Ingredient) -> float:
    """The usual content of a bottle or bag of it, in its own unit."""
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
    """The supply of a juice: its unit is what one fruit gives."""
    unit = fruit.juice.value * fruit.usable.value
    found = UnitPrices(bar).of(juice.key)
    return Supply(
        how=SupplyWay.PRESS,
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


def _lots(
    row: Stocked | None, supply: Supply, today: date, days: int
) -> tuple[tuple[ItemLot, ...], int]:
    """The lots in stock with their last days, and full bottles, whose days begin when opened."""
    lots: list[ItemLot] = []
    full = 0
    for lot in row.lots if row is not None and row.on_hand else ():
        there, unopened = _lot(lot, supply, today, days)
        full += unopened
        lots += [] if there is None else [there]
    return tuple(lots), full


def _lot(lot: Stocked, supply: Supply, today: date, days: int) -> tuple[ItemLot | None, int]:
    """One batch of a row, and its full bottles; part of a bottle was opened today at the latest."""
    there = lot.on_hand or 0.0
    if lot.opened is not None or lot.dated is not None:
        return ItemLot(there, lot.use_by), 0
    keeps_long = supply.keeps is None or supply.keeps >= days
    if keeps_long or supply.how is not SupplyWay.BUY or not lot.bottle:
        return ItemLot(there), 0
    full = math.floor(there / lot.bottle + 1e-9)
    rest = there - full * lot.bottle
    last = today + timedelta(days=supply.keeps or 0)
    return (ItemLot(rest, last) if rest > 1e-6 else None), full


def _standing_lots(key: str, bar: Bar) -> Iterator[ItemLot]:
    """Batches that are not ready yet, each with the day that it is."""
    for lot in bar.waiting:
        if lot.ingredient.key == key and lot.on_hand:
            yield ItemLot(lot.on_hand, lot.use_by, lot.ready)


def _worth(row: Stocked | None, supply: Supply) -> float | None:
    if row is not None and row.price_per_unit is not None:
        return row.price_per_unit
    return None if supply.price is None else supply.price / supply.unit


def _days(life: float | None) -> int | None:
    return None if life is None else int(life)


def item_named(name: str, items: Mapping[str, Item], bar: Bar) -> Item:
    """The item of a plan with a name.

    Raises:
        BadInput: there is no such ingredient, or nothing in the plan takes it.
    """
    ingredient = bar.bottles.find(name)
    if ingredient.key in items:
        return items[ingredient.key]
    what = f"no drink of this plan pours {ingredient.name}"
    raise BadInput(what, remedy="Add one that does, or leave it out.")
