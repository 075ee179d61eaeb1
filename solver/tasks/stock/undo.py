"""Undo a movement: restore its cells, or correct amounts that moved since."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace
from datetime import date
from functools import reduce
from typing import Final

from solver.errors import BadInput
from solver.pantry.bar import Bar
from solver.pantry.house_file import value_of
from solver.pantry.on_hand import read_on_hand, written_on_hand
from solver.pantry.shelf import Shelf
from solver.pantry.stock_log import HOUSE, ROW, LogEntry, Move, StockLog
from solver.pantry.stocked import Stocked
from solver.tasks.stock.house_figures import HouseFile, house_back, with_house
from solver.tasks.stock.movement import Movement, log_of, shelf_of


def undone(number: int | None, bar: Bar, day: date, why: str = "") -> Movement:
    """The movement that undoes entry `number`, or the last one that was not undone.

    A cell that still has the value that the entry wrote gets its previous text back, letter for
    letter. An amount that moved since is corrected by the entry's difference.

    Raises:
        BadInput, BadInputs: there is no such entry, it was taken back already, or what moved since
            leaves nothing right to write, or the day is still to come.
    """
    shelf, log = shelf_of(bar), log_of(bar)
    return _undone(_entry(number, log), log, shelf, {}, bar, bar.happened(day), why)


def all_undone(numbers: Sequence[int], bar: Bar, day: date, why: str = "") -> tuple[Movement, ...]:
    """The movements that undo several entries, each once, the newest first, each from what the one
    before leaves; none named is the last one that stands. `as_one` writes them.

    Raises:
        BadInput, BadInputs: one of them can't be undone, as `undone` says.
    """
    shelf, log, day = shelf_of(bar), log_of(bar), bar.happened(day)
    entries = {entry.number: entry for entry in (_entry(n, log) for n in numbers or (None,))}
    houses: dict[str, HouseFile] = {}
    found: list[Movement] = []
    for number in sorted(entries, reverse=True):
        moved = _undone(entries[number], log, shelf, houses, bar, day, why)
        shelf, log = moved.after, log.and_entry(moved.entry)
        houses |= {house.key: house for house in moved.houses}
        found.append(moved)
    return tuple(found)


def as_one(movements: Sequence[Movement]) -> Movement:
    """What writes all of several movements that follow each other, or none of them."""
    houses = {house.key: house for moved in movements for house in moved.houses}
    return replace(movements[-1], before=movements[0].before, houses=tuple(houses.values()))


def _undone(
    entry: LogEntry, log: StockLog, shelf: Shelf, changed: Mapping[str, HouseFile], bar: Bar,
    day: date, why: str,
) -> Movement:  # fmt: skip
    _refuse_counted(entry, log)
    houses = _houses_back(entry, bar, changed)
    moves: list[Move] = []
    for key in dict.fromkeys(move.ingredient for move in entry.moves):
        own = [move for move in entry.moves if move.ingredient == key]
        moves += _row_back(key, [m for m in own if not _is_house(m)], entry, shelf)
    after = _moved(shelf, moves, houses)
    _refuse_untold(entry, log, shelf, after)
    moves += [move for house in houses for move in house.moves]
    taken = LogEntry(log.next_number, day, "undo", tuple(moves), why, entry.number)
    return Movement(taken, shelf, after, log, houses)


def _moved(shelf: Shelf, moves: Sequence[Move], houses: Sequence[HouseFile]) -> Shelf:
    """The shelf after some moves of its rows, read with the resulting house files.

    Rows are removed while they can still be read, and added once they can: a row of an ingredient
    of which the house has only a recipe is a mistake, whichever row is looked at.
    """
    gone = [move.ingredient for move in moves if move.cell == ROW and not move.after]
    rows: dict[str, dict[str, str]] = {}
    for move in moves:
        if move.cell != ROW and move.ingredient not in gone:
            rows.setdefault(move.ingredient, {})[move.cell] = move.after
    for key in gone:
        shelf = shelf.without(key)
    return reduce(with_house, houses, shelf).with_rows(rows)


def _is_house(move: Move) -> bool:
    return move.cell.startswith(HOUSE)


def _houses_back(
    entry: LogEntry, bar: Bar, changed: Mapping[str, HouseFile]
) -> tuple[HouseFile, ...]:
    """The house files with their figures before the entry; `changed` are to be changed already."""
    own = [move for move in entry.moves if _is_house(move)]
    keys = dict.fromkeys(move.ingredient for move in own)
    found = (
        house_back(key, [m for m in own if m.ingredient == key], bar, changed.get(key))
        for key in keys
    )
    return tuple(house for house in found if house is not None)


def _entry(number: int | None, log: StockLog) -> LogEntry:
    entry = log.latest if number is None else log.entry(number)
    if entry is None:
        what = "there is nothing to undo" if number is None else f"the log has no entry {number}"
        raise BadInput(what, remedy="See `equipour stock log`.")
    if log.undone(entry.number):
        what = f"entry {entry.number} was undone already"
        raise BadInput(what, remedy="See `equipour stock log`.")
    return entry


def _refuse_counted(entry: LogEntry, log: StockLog) -> None:
    """Refuse to correct an amount that was counted since: the count is right.

    Raises:
        BadInput: something of the entry was.
    """
    own = {move.ingredient for move in entry.moves}
    for later in log.entries:
        if later.number > entry.number and later.what == "count" and not log.undone(later.number):
            for move in later.moves:
                if move.ingredient in own:
                    raise _moved_since(move.ingredient, entry, f"entry {later.number} counted it")


def _refuse_untold(entry: LogEntry, log: StockLog, before: Shelf, after: Shelf) -> None:
    """Refuse to bring back what a file does not tell any more: another batch was made since.

    Raises:
        BadInput: something that comes back is such.
    """
    for later in log.entries:
        if later.number <= entry.number or later.what != "made" or log.undone(later.number):
            continue
        for key in {move.ingredient for move in later.moves if _tells_less(move)}:
            was, now = before.row(key), after.row(key)
            if now is not None and now.on_hand != 0 and (was is None or _more(now, was)):
                what = f"entry {entry.number} cannot be undone: it brings back another {key}"
                why = f"entry {later.number} made it by another recipe, and its file tells of that"
                remedy = f"Undo that first: `equipour stock undo {later.number}`."
                raise BadInput(what, why=why, remedy=remedy)


def _more(now: Stocked, was: Stocked) -> bool:
    return now.on_hand is None or was.on_hand is None or now.on_hand > was.on_hand


_TOLD: Final = (
    "allergens", "may_contain", "animal", "may_animal", "declare", "made_of", "was_made_of",
    "may_hold", "unclear", "holds",
)  # fmt: skip
"""Values of a house file that tell a guest of what stands there."""
_NOT_KNOWN_WITHOUT: Final = ("allergens", "animal")
"""Those of which nobody knows anything where there is no line."""


def _tells_less(move: Move) -> bool:
    """Whether a house file lost a word for guests, or states now what it did not."""
    name = move.cell.removeprefix(HOUSE)
    if not _is_house(move) or name not in _TOLD:
        return False
    if name in _NOT_KNOWN_WITHOUT and not (move.before and move.after):
        return bool(move.after)
    was, now = (value_of(text) if text else () for text in (move.before, move.after))
    return was != now if name == "holds" else not set(was) <= set(now)


def _row_back(key: str, moves: list[Move], entry: LogEntry, shelf: Shelf) -> list[Move]:
    """The moves that restore one row of the shelf."""
    if not moves:
        return []
    row = shelf.row(key)
    whole = next((move for move in moves if move.cell == ROW), None)
    cells = {move.cell: move for move in moves if move.cell != ROW}
    if whole is not None and whole.before:  # it was removed: it comes back
        if row is not None:
            raise _moved_since(key, entry, "it is on the shelf again")
        return [_reversed(move) for move in moves]
    if row is None:
        raise _moved_since(key, entry, "it is not on the shelf any more")
    now = shelf.cells(row)
    if whole is not None:
        for move in cells.values():
            if now.get(move.cell, "") != move.after:
                raise _moved_since(key, entry, f"its {move.cell} is '{now.get(move.cell, '')}' now")
        return [_reversed(move) for move in moves]
    back = {cell: _cell_back(move, now, row, entry, shelf) for cell, move in cells.items()}
    return [Move(key, cell, now.get(cell, ""), text) for cell, text in back.items()]


def _cell_back(
    move: Move, now: Mapping[str, str], row: Stocked, entry: LogEntry, shelf: Shelf
) -> str:
    text = now.get(move.cell, "")
    if text == move.after:
        return move.before
    key = move.ingredient
    if move.cell == "opened" and row.by_bottle:
        return text  # another bottle was opened since: that one stands open now
    if move.cell != "on_hand":
        raise _moved_since(key, entry, f"its {move.cell} is '{text}' now")
    amounts = [_amount(each, row, shelf) for each in (text, move.before, move.after)]
    there, was, became = amounts
    if there is None or was is None or became is None:
        raise _moved_since(key, entry, "it was not counted at one of the times")
    amount = there + was - became
    if amount < -1e-6:
        raise _moved_since(key, entry, f"only {text} left, less than it put in")
    return written_on_hand(max(0.0, amount), text, row)


def _amount(text: str, row: Stocked, shelf: Shelf) -> float | None:
    return (
        read_on_hand(text, row.ingredient, row.bottle, shelf.measures, shelf.library)
        if text
        else None
    )


def _reversed(move: Move) -> Move:
    return Move(move.ingredient, move.cell, move.after, move.before)


def _moved_since(key: str, entry: LogEntry, why: str) -> BadInput:
    what = f"entry {entry.number} cannot be undone: {key} has moved since"
    return BadInput(what, why=why, remedy=f"Count it: equipour stock count {key} AMOUNT.")
