"""What the drinks of a plan take: the bar's stock of each thing, and how more of it is had."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, replace
from datetime import date, timedelta
from typing import Final

from solver.drinks.mixed_ahead import MixedAhead
from solver.errors import BadInput
from solver.pantry.bar import Bar
from solver.pantry.ingredient import Ingredient
from solver.pantry.stocked import Stocked
from solver.tasks.plan.standing_batches import serve_ml
from solver.tasks.plan.supply import Supply, SupplyWay, is_from_tap, supply_of
from solver.tasks.prep import find_recipe

ASSUMED_PRICE: Final = 0.01
"""What a millilitre or gram without a price counts for, in the bar's currency, when plans are
compared: no drop is taken for worthless because nobody has priced it. It is in no sum that is
told."""


@dataclass(frozen=True)
class ItemLot:
    """An amount in mL or g, with the first and the last day to pour it; None: nobody has said."""

    amount: float
    last: date | None = None
    first: date | None = None


@dataclass(frozen=True)
class Item:
    """Something that drinks or recipes take: its stock, and its supply.

    `past` is past its last day; `untold` is true if the shelf does not state the amount, `undated`
    of eggs of which it does not state the age, `older` of a drink that was mixed by another recipe
    than its spec is now.
    """

    ingredient: Ingredient
    lots: tuple[ItemLot, ...]
    supply: Supply
    worth: float
    """Of one mL or g, in the bar's currency; by `ASSUMED_PRICE` where `priced` is false."""
    priced: bool
    past: Stocked | None = None
    untold: bool = False
    undated: bool = False
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


def _item(key: str, size: str | None, bar: Bar, days: int) -> Item:
    row, past = _listed(bar.stocked(key)), _listed(bar.past_row(key))
    supply, ingredient = supply_of(key, size, row, bar)
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
        undated=good is not None and any(map(_eggs_of_no_date, good.lots)),
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


def _eggs_of_no_date(lot: Stocked) -> bool:
    return lot.in_shell and bool(lot.on_hand) and lot.opened is None and lot.dated is None


def _lot(lot: Stocked, supply: Supply, today: date, days: int) -> tuple[ItemLot | None, int]:
    """One batch of a row, and its full bottles; part of a bottle was opened today at the latest,
    and fruit and eggs, which no bottle keeps, were bought today at the latest."""
    there = lot.on_hand or 0.0
    if lot.opened is not None or lot.dated is not None:
        return ItemLot(there, lot.use_by), 0
    keeps_long = supply.keeps is None or supply.keeps >= days
    if keeps_long or supply.how is not SupplyWay.BUY:
        return ItemLot(there), 0
    last = today + timedelta(days=supply.keeps or 0)
    if lot.in_shell or (lot.ingredient.loose and lot.ingredient.per == "g"):
        return ItemLot(there, last), 0
    if not lot.bottle:
        return ItemLot(there), 0
    full = math.floor(there / lot.bottle + 1e-9)
    rest = there - full * lot.bottle
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
