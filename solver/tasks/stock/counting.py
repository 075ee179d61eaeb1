"""Stock movements by hand: in, out, counted, opened."""

from __future__ import annotations

from datetime import date

from solver.errors import BadInput
from solver.pantry.bar import Bar
from solver.pantry.ingredient import Ingredient
from solver.pantry.on_hand import read_on_hand, written_on_hand
from solver.pantry.stocked import Stocked
from solver.pantry.stocked_as import size_of_one
from solver.printable import short
from solver.quantities import parse, parse_pour
from solver.quantities.sizes import TRADE_ROUNDING
from solver.tasks.stock.item_and_amount import item_and_amount
from solver.tasks.stock.movement import Movement, moving, shelf_of
from solver.tasks.stock.pouring_order import cells_after, dated_cells


def came_in(
    name: str, amount: str, bar: Bar, day: date, *, price: str | None = None,
    bottle: str | None = None, why: str = "",
) -> Movement:  # fmt: skip
    """A delivery; `price` is of a bottle or a piece, `bottle` its size if the shelf has no row.

    If nothing was left, the old dates are removed: they were of another bottle.

    Raises:
        BadInput, BadInputs: it is not known, can't be read, or was never counted.
    """
    item, amount = item_and_amount(name, amount, bar)
    row = shelf_of(bar).row(item.key)
    cells: dict[str, str] = {}
    size = None
    if bottle is not None:
        pour = parse_pour(size_of_one(bottle), bar.measures, example="700 ml or 1 kg")
        size = item.kept_units(pour, "700 ml")
        known = row.bottle if row is not None and row.bottle else size
        if abs(known - size) > TRADE_ROUNDING * size:
            what = f"a bottle of {item.key} is {known:g} {item.unit} on the shelf"
            remedy = "Give the amount in mL or g, or change the shelf first."
            raise BadInput(what, remedy=remedy)
        if row is None or not row.bottle:
            cells["bottle"] = bottle
    there = row or Stocked(item, size, on_hand=0.0)
    now = _counted(there) + _amount(amount, there, bar)
    like = amount if row is None else _said(row, bar)
    cells["on_hand"] = written_on_hand(now, like, there)
    if price is not None:
        money = parse(price, "money", bar.measures, currency=bar.currency)
        if row is None or row.price != money:
            cells["price"] = f"{money:.2f}" if money == round(money, 2) else price
        unsized = row is None or row.bottle is None
        if unsized and bottle is None and amount.endswith(("piece", "pieces")):
            cells["bottle"] = "1 piece"  # what is counted by the piece is priced by it
    if row is not None and not row.on_hand:
        shelf = shelf_of(bar)
        cells |= dated_cells(None, None, shelf.cells(row), shelf)
        cells |= {"newer": ""} if row.newer else {}
    return moving(bar, "in", {item.key: cells}, day, why)


def went_out(name: str, amount: str, bar: Bar, day: date, why: str = "") -> Movement:
    """A removal other than a sale.

    Raises:
        BadInput, BadInputs: it is not on the shelf, can't be read, or there is not so much.
    """
    item, amount = item_and_amount(name, amount, bar)
    row = _on_shelf(item, bar)
    there, less = _counted(row), _amount(amount, row, bar)
    if less > there + 1e-9:
        what = f"there is no such amount of {row.ingredient.key} to take out"
        why = f"the shelf says {_said(row, bar)}"
        remedy = f"Count it: equipour stock count {row.ingredient.key} AMOUNT."
        raise BadInput(what, why=why, remedy=remedy)
    cells = cells_after(row, less, shelf_of(bar))
    return moving(bar, "out", {row.ingredient.key: cells}, day, why)


def counted(name: str, amount: str, bar: Bar, day: date, why: str = "") -> Movement:
    """A count of what is there.

    Raises:
        BadInput, BadInputs: it is not on the shelf, can't be read, or is what the shelf says.
    """
    item, amount = item_and_amount(name, amount, bar)
    row = _on_shelf(item, bar)
    there = _amount(amount, row, bar, nothing=True)
    cells: dict[str, str] = {}
    if row.on_hand is not None and there < row.on_hand:
        cells = cells_after(row, row.on_hand - there, shelf_of(bar))  # the oldest is what is gone
    cells["on_hand"] = written_on_hand(there, amount, row)
    return moving(bar, "count", {row.ingredient.key: cells}, day, why)


def opened(name: str, bar: Bar, day: date, why: str = "") -> Movement:
    """A bottle was opened, or a batch made, on a day.

    Raises:
        BadInput, BadInputs: it is not on the shelf, the shelf says so already, or it is counted by
            the piece.
    """
    row = _on_shelf(bar.bottles.said(name), bar)
    if row.in_shell or (row.ingredient.loose and row.ingredient.per == "g"):
        key = row.ingredient.key
        remedy = f"Write its last day: equipour shelf set {key} --use-by DATE."
        raise BadInput(f"{key} is taken by the piece, not opened", remedy=remedy)
    return moving(bar, "open", {row.ingredient.key: {"opened": day.isoformat()}}, day, why)


def _on_shelf(item: Ingredient, bar: Bar) -> Stocked:
    row = shelf_of(bar).row(item.key)
    if row is None:
        what = f"{item.key} is not on the shelf"
        remedy = f"Count it in: equipour stock in {item.key} AMOUNT --bottle SIZE."
        raise BadInput(what, remedy=remedy)
    return row


def _counted(row: Stocked) -> float:
    if row.on_hand is None:
        what = f"nobody has counted {row.ingredient.key}"
        remedy = f"Count it first: equipour stock count {row.ingredient.key} AMOUNT."
        raise BadInput(what, remedy=remedy)
    return row.on_hand


def _amount(text: str, row: Stocked, bar: Bar, *, nothing: bool = False) -> float:
    amount = read_on_hand(text, row.ingredient, row.bottle, bar.measures, bar.library, row.case)
    if amount <= 0 and not nothing:
        raise BadInput(f"'{short(text)}' is nothing", remedy="Give more than nothing.")
    return amount


def _said(row: Stocked, bar: Bar) -> str:
    """The present amount of a row in the shelf's notation."""
    return shelf_of(bar).cells(row).get("on_hand", "")
