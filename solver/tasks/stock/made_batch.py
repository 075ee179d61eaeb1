"""One movement for something made: it comes onto the shelf, its inputs go."""

from __future__ import annotations

from collections.abc import Callable, Container, Iterable, Mapping
from dataclasses import dataclass, replace
from datetime import date
from pathlib import Path

from solver.errors import BadInput, BadInputs, Where
from solver.files.checked import gather
from solver.pantry.bar import Bar
from solver.pantry.ingredient import Ingredient
from solver.pantry.pressed import taken_as_fruit
from solver.pantry.shelf import Shelf
from solver.pantry.stocked import Stocked
from solver.quantities import show_number
from solver.tasks.stock.house_figures import HouseFile
from solver.tasks.stock.movement import Movement, log_of, moving, shelf_of
from solver.tasks.stock.opening import begins, date_after
from solver.tasks.stock.pouring_order import cells_after, lot_cells, with_batch

_ROUNDING = 1e-9


@dataclass(frozen=True)
class Made:
    """What was made: amount, dates, and its cost if known.

    `bottle_ml` is the size of its bottles; None for one that holds it all. `ready` is the first
    day to pour it; None if it is ready.
    """

    volume_ml: float
    made: date
    use_by: date
    cost: float | None
    bottle_ml: float | None = None
    ready: date | None = None


@dataclass(frozen=True)
class MadeFrom:
    """The inputs: amounts by key, in the ingredient's own unit, and names.

    `enough_for` says in a sentence what a share of the needed amount is enough for; `must_be_there`
    is true if everything has to be on the shelf.
    """

    units: Mapping[str, float]
    names: Mapping[str, str]
    enough_for: Callable[[float], str]
    must_be_there: bool = False


@dataclass(frozen=True)
class Taken:
    """What came off the shelf: `units` of the ingredient's own unit, with `left` remaining."""

    ingredient: Ingredient
    units: float
    left: float


@dataclass(frozen=True)
class Produced:
    """A batch to be put onto the shelf.

    `uncounted` are names of inputs that the shelf does not count, and of which nothing was taken.
    `older` are batches of the same name that stay, with their own dates. `new_columns` are columns
    that the shelf did not have; `ready` is as in `Made`.
    """

    movement: Movement
    key: str
    made: date
    volume_ml: float
    house: Path
    taken: tuple[Taken, ...]
    uncounted: tuple[str, ...]
    older: tuple[Stocked, ...]
    ready: date | None = None

    @property
    def shelf(self) -> Path:
        """The path of the shelf."""
        return self.movement.before.sheet.path

    @property
    def new_columns(self) -> tuple[str, ...]:
        """The columns that are added to the shelf."""
        before = self.movement.before.sheet.columns
        return self.movement.after.sheet.columns[len(before) :]


def produced(
    made: Made, house: HouseFile, went_in: MadeFrom, bar: Bar, *, again: bool = False
) -> Produced:
    """The movement of a batch: it comes onto the shelf, its inputs go.

    An earlier batch of the same name stays, with its own dates. One of the same day is taken for
    the same batch, and refused unless `again`.

    Raises:
        BadInput, BadInputs: the bar has no shelf; there is not enough of something on it, or that
            is past its day; such a batch stands there already; the day is still to come.
    """
    shelf = shelf_of(bar)
    key = house.item.key
    row = shelf.row(key)
    older = row.lots if row is not None and row.on_hand else ()
    if not again:
        _refuse_twice(older, made, key, bar)
    taken, uncounted = _taken(went_in, made.made, bar)
    cells = {each.ingredient.key: _less(each, shelf, bar.house, made.made) for each in taken}
    cells[key] = _made_cells(made, older, house.item, row, shelf)
    return Produced(
        movement=moving(bar, "made", cells, made.made, house=house),
        key=key,
        made=made.made,
        volume_ml=made.volume_ml,
        house=house.path,
        taken=taken,
        uncounted=uncounted,
        older=older,
        ready=made.ready,
    )


def _refuse_twice(older: Iterable[Stocked], made: Made, key: str, bar: Bar) -> None:
    """Refuse a second batch of the same day.

    Raises:
        BadInput: one is.
    """
    if all(lot.opened != made.made for lot in older):
        return
    log = log_of(bar)
    entries = (
        entry.number
        for entry in reversed(log.entries)
        if entry.what == "made" and entry.moves[-1].ingredient == key
        and entry.day == made.made and not log.undone(entry.number)
    )  # fmt: skip
    number = next(entries, None)
    off = f"stock count {key} 0" if number is None else f"stock undo {number}"
    raise BadInput(
        f"{key} made {made.made.isoformat()} is on the shelf already",
        remedy=f"If it is the same, take that off first: `equipour {off}`. If it is another batch, "
        "say --again; of another day, --made DAY.",
    )


def _made_cells(
    made: Made, older: Iterable[Stocked], item: Ingredient, row: Stocked | None, shelf: Shelf
) -> dict[str, str]:
    """The cells of the row: amount, dates, and the price of a bottle of the new batch."""
    said = {} if row is None else shelf.cells(row)
    cells: dict[str, str] = {}
    bottle = row.bottle if row else None
    if bottle is None:
        bottle = float(round(made.bottle_ml or made.volume_ml))
        cells["bottle"] = f"{bottle:.0f} ml"
    if made.cost is not None:
        cells["price"] = f"{made.cost * bottle / made.volume_ml:.2f}"
    if said.get("overrides"):
        cells["overrides"] = ""
    amount = round(made.volume_ml) or made.volume_ml
    new = Stocked(item, bottle, on_hand=amount, opened=made.made, dated=made.use_by)
    lots = with_batch((replace(lot, ingredient=item) for lot in older), new)
    return lot_cells(lots, said, shelf) | cells


def _less(taken: Taken, shelf: Shelf, house: Container[str], day: date) -> dict[str, str]:
    row = shelf.row(taken.ingredient.key)
    if row is None:
        return {}
    cells = cells_after(row, taken.units, shelf, day)
    dated = date_after(row, taken.left, day) if begins(row, taken.left, house) else None
    if dated is None or dated == shelf.cells(row).get("opened", ""):
        return cells
    return {**cells, "opened": dated}


def _taken(went_in: MadeFrom, day: date, bar: Bar) -> tuple[tuple[Taken, ...], tuple[str, ...]]:
    """What comes off each row of the shelf; water comes from the tap unless a row counts it.

    Raises:
        BadInput, BadInputs: there is not enough of something, or it is past its day.
    """
    shelf = shelf_of(bar)
    taken: list[Taken] = []
    uncounted: list[str] = []
    lacks: list[BadInput | BadInputs] = []
    for key, units in taken_as_fruit(went_in.units, shelf, bar.library, day).items():
        row = shelf.row(key)
        name = went_in.names[key] if key in went_in.names or row is None else row.ingredient.name
        if row is None or row.on_hand is None:
            tap = row is None and _is_water(key, bar)
            if row is None and bar.stocked(key) is None and went_in.must_be_there and not tap:
                remedy = f"{_more_of(key, bar)}."
                lacks.append(BadInput(f"{name} is not on the shelf", remedy=remedy))
            uncounted += [] if tap else [name]
            continue
        item = row.ingredient
        good = row.good(day)
        there = 0.0 if good is None else good.on_hand or 0.0
        where = Where(shelf.sheet.path, row.line)
        if good is None and (ready := row.ready) is not None and row.waiting(day):
            remedy = f"If it has stood already, say so: stock open {key} --on DAY."
            what = f"{name} has to stand until {ready}"
            lacks.append(BadInput(what, where=where, remedy=remedy))
        elif good is None and row.on_hand:
            what = f"{name} is past its day, {row.use_by}"
            lacks.append(BadInput(what, where=where, remedy="Open a fresh one."))
        elif units > there * (1 + _ROUNDING):
            lacks.append(_too_little(item, units, there, went_in, bar).at(where))
        else:
            taken.append(Taken(item, units, row.on_hand - units))
    gather(lacks)
    return tuple(taken), tuple(dict.fromkeys(uncounted))


def _is_water(key: str, bar: Bar) -> bool:
    item = bar.bottles.get(key)
    return item is not None and item.is_kind("water")


def _more_of(key: str, bar: Bar) -> str:
    """How more of something comes onto the shelf."""
    if key in bar.recipes:
        return f"Once more is made: equipour prep {key} --stock"
    return f"Count it in: equipour stock in {key} AMOUNT --bottle SIZE"


def _too_little(
    item: Ingredient, units: float, there: float, went_in: MadeFrom, bar: Bar
) -> BadInput:
    enough = went_in.enough_for(there / units)
    made = f" {_more_of(item.key, bar)}." if item.key in bar.recipes else ""
    return BadInput(
        f"there is not enough {item.name} on the shelf",
        why=f"{show_number(units)} {item.unit} are needed, {show_number(there)} are there",
        remedy=f"{enough}{made} Or count it: equipour stock count {item.key} AMOUNT.",
    )
