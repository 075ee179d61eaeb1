"""Whole fruit as the juice that it gives, and eggs as their parts: in stock, priced, and taken by
the piece."""

from __future__ import annotations

import math
from collections.abc import Container, Mapping, Sequence
from dataclasses import replace
from datetime import date
from typing import Final

from solver.pantry.fruit import Fruit, given_by_pieces
from solver.pantry.library import Library
from solver.pantry.shelf import Shelf
from solver.pantry.stocked import Stocked
from solver.pantry.unit_price import Priced, UnitPrice

_ROUNDING: Final = 1e-6
"""Pieces; what is less than that beyond a whole one is rounding."""


def with_juices(
    stock: Sequence[Stocked], past: Sequence[Stocked], library: Library
) -> tuple[tuple[Stocked, ...], tuple[Stocked, ...]]:
    """What may be poured and what is past its day, with what fruit says of juice.

    Fruit is there as its juice too, and eggs as white and yolk, where neither has any good of it:
    as much as it gives, uncounted where the fruit is, and past its day with it; where there is good
    juice, too, the fruit's comes on top. A juice without a price has that of its fruit.
    """
    fruits = {row.ingredient.key: row for row in (*past, *stock) if row.ingredient.loose}
    juices = given_by_pieces(library) if fruits else {}
    pairs = [(each, fruits[each.key]) for each in juices.values() if each.key in fruits]
    costs = {fruit.gives: juice_price(fruit, row) for fruit, row in pairs}
    there = {row.ingredient.key: row for row in (*past, *stock)}
    poured = {row.ingredient.key for row in stock if row.on_hand != 0}
    spoiled = {row.ingredient.key for row in past}
    fresh: list[Stocked] = []
    old: list[Stocked] = []
    more: dict[str, float] = {}
    for fruit, row in pairs:
        bottle = there.get(fruit.gives)
        if bottle is None and fruit.gives in library:
            kept = old if fruit.key in spoiled else fresh
            kept.append(_juice(row, fruit, library, row.use_by if kept is old else None))
        elif bottle is not None and _is_there(row, spoiled):
            if fruit.gives in poured:
                gives = _gives(row, fruit)
                more[fruit.gives] = math.inf if gives is None else gives
            else:
                fresh.append(_refilled(bottle, row, fruit))
    pressed = {row.ingredient.key for row in fresh}
    stock = [
        replace(row, in_fruit=more[row.ingredient.key]) if row.ingredient.key in more else row
        for row in stock
        if row.ingredient.key not in pressed
    ]

    def priced(row: Stocked) -> Stocked:
        cost = costs.get(row.ingredient.key) if row.price_per_unit is None else None
        return row if cost is None else replace(row, worked_out=cost)

    return tuple(map(priced, (*stock, *fresh))), tuple(map(priced, (*past, *old)))


def juice_price(fruit: Fruit, row: Stocked | None) -> UnitPrice | None:
    """What one mL of a juice costs by the row of its fruit; None where that has no price."""
    per_gram = row.price_per_unit if row else None
    if per_gram is None:
        return None
    return UnitPrice(per_gram * fruit.units(1.0), Priced.FRUIT, fruit=fruit)


def taken_as_fruit(
    amounts: Mapping[str, float], shelf: Shelf, library: Library, day: date
) -> dict[str, float]:
    """What is taken on a day, by key: juice as far as the shelf counts good of it, and of the rest
    the fruit that it has.

    Fruit is pressed whole; where what is there just does, it is all of it. An egg gives its white
    and its yolk.
    """
    given = given_by_pieces(library) if any(row.ingredient.loose for row in shelf.rows) else {}
    taken: dict[str, float] = {}
    pressed: dict[str, float] = {}
    for key, amount in amounts.items():
        fruit = given.get(key)
        row = None if fruit is None else shelf.row(fruit.key)
        bottle = shelf.row(key)
        as_it_is = amount if row is None else _as_it_is(amount, bottle, row, day)
        if row is None or as_it_is:
            taken[key] = taken.get(key, 0.0) + as_it_is
        if fruit is not None and row is not None and as_it_is < amount:
            most = max(pressed.get(fruit.key, 0.0), _whole(fruit, amount - as_it_is, row))
            taken[fruit.key] = taken.get(fruit.key, 0.0) + most - pressed.get(fruit.key, 0.0)
            pressed[fruit.key] = most
    return taken


def _as_it_is(amount: float, bottle: Stocked | None, fruit: Stocked, day: date) -> float:
    """How much of a juice is taken of its own row and not of its fruit's.

    What both rows lack is said of the juice.
    """
    if bottle is None:
        return 0.0
    if bottle.on_hand is None:
        counted = fruit.on_hand is not None or _is_gone(bottle, day)
        return 0.0 if counted else amount
    good = bottle.good(day)
    there = (good.on_hand or 0.0) if good else 0.0
    if there + _ROUNDING >= amount:
        return amount
    if fruit.on_hand == 0:
        return amount if there or bottle.on_hand == 0 else 0.0
    return there


def _is_gone(row: Stocked | None, day: date) -> bool:
    """Whether nothing of a row is there to be poured on a day."""
    good = None if row is None else row.good(day)
    return good is None or good.on_hand == 0


def _is_there(row: Stocked, spoiled: Container[str]) -> bool:
    return row.on_hand != 0 and row.ingredient.key not in spoiled


def _refilled(bottle: Stocked, row: Stocked, fruit: Fruit) -> Stocked:
    """The juice of a bottle that is empty or past its day, as the fruit of a row gives it."""
    return replace(
        bottle,
        on_hand=_gives(row, fruit),
        price=None,
        opened=None,
        dated=None,
        newer=(),
        fruit=fruit,
    )


def _whole(fruit: Fruit, poured_ml: float, row: Stocked) -> float:
    """The whole pieces to press, in their own unit; of the last one what is there of it."""
    needed = fruit.units(poured_ml)
    whole = math.ceil(fruit.pieces(poured_ml) - _ROUNDING) * fruit.weight.value
    there = row.on_hand
    return whole if there is None or needed > there else min(whole, there)


def _juice(row: Stocked, fruit: Fruit, library: Library, dated: date | None) -> Stocked:
    """The juice of fruit that is there; how long good fruit keeps says nothing of its juice."""
    return Stocked(library.find(fruit.gives), on_hand=_gives(row, fruit), dated=dated, fruit=fruit)


def _gives(row: Stocked, fruit: Fruit) -> float | None:
    """The juice of all fruit that is there, mL; None where nobody has counted it."""
    return None if row.on_hand is None else row.on_hand / fruit.units(1.0)
