"""What moved on the shelf, as people read it."""

from __future__ import annotations

from collections.abc import Sequence

from solver.pantry.bar import Bar
from solver.pantry.on_hand import written_on_hand
from solver.pantry.stock_log import HOUSE, ROW, LogEntry, Move, StockLog
from solver.pantry.stocked import Stocked
from solver.quantities import show_count, show_number
from solver.show.words.names_in_a_row import listed
from solver.tasks.stock.movement import Movement, StockMoved

_CELLS = {"on_hand": "on hand", "use_by": "use by"}
_WHOLE = 100.0
"""mL or g from which tenths are not said."""
_NOTHING = {"on_hand": "not counted", "opened": "not dated", "use_by": "not dated"}


def movement_text(found: Movement, bar: Bar) -> str:
    """What moved, cell by cell, and what the dates come to."""
    lines = [f"Entry {_entry_words(found.entry)}"]
    for moved in found.rows:
        lines += [f"  {line}" for line in _moved_lines(moved, found.entry)]
        lines += [f"  {line}" for line in _dated_lines(moved.after, found.entry, bar)]
    return "\n".join(lines)


def _entry_words(entry: LogEntry) -> str:
    undoes = "" if entry.undoes is None else f" of entry {entry.undoes}"
    return f"{entry.number}, {entry.day.isoformat()}, {entry.what}{undoes}{_why(entry, ': ', '')}"


def _why(entry: LogEntry, before: str, after: str) -> str:
    """What somebody said and the file that was read, where there is either."""
    said = "; ".join(filter(None, (entry.why, entry.file.rpartition(" ")[0])))
    return f"{before}{said}{after}" if said else ""


def _moved_lines(moved: StockMoved, entry: LogEntry) -> list[str]:
    own = [move for move in entry.moves if move.ingredient == moved.key]
    lines = [f"{moved.key}  {said}" for said in _moves_words(own)]
    if entry.what == "count" and moved.more is not None:
        side = "less" if moved.more < 0 else "more"
        pieces = "piece" in own[0].after
        amount = written_on_hand(abs(moved.more), own[0].after, moved.row) if pieces else ""
        amount = amount or stock_amount(abs(moved.more), moved.row)
        nothing = amount.startswith("0 ")
        lines[0] += ": as expected" if nothing else f": {amount} {side} than expected"
    return lines


def _moves_words(moves: Sequence[Move]) -> list[str]:
    """What moved of one row; the figures of its house file by their names."""
    gone = next((move for move in moves if move.cell == ROW and not move.after), None)
    if gone is not None:
        return [_move_words(gone)]
    lines = [_move_words(move) for move in moves if not move.cell.startswith(HOUSE)]
    figures = [m.cell.removeprefix(HOUSE) for m in moves if m.cell.startswith(HOUSE)]
    return [*lines, *([f"in its house file: {listed(figures)}"] if figures else [])]


def _move_words(move: Move) -> str:
    if move.cell == ROW:
        return "new on the shelf" if move.after else "off the shelf"
    nothing = _NOTHING.get(move.cell, "none")
    name = _CELLS.get(move.cell, move.cell)
    return f"{name} {move.before or nothing} to {move.after or nothing}"


def _dated_lines(row: Stocked | None, entry: LogEntry, bar: Bar) -> list[str]:
    """The last day of what came in or was opened; that one date stands for several bottles."""
    if row is None or entry.what not in ("in", "open") or row.use_by is None:
        return []
    over = " It is past that: not poured." if row.past(bar.today) else ""
    several = ""
    if row.sealed and row.opened is not None:
        closed = show_number(row.sealed / (row.bottle or row.sealed))
        several = f" for the one that is open; {closed} more {'is' if closed == '1' else 'are'} not"
    elif row.bottle and row.on_hand is not None and row.on_hand > row.bottle:
        several = ", for all that is there: the shelf has one date for each row"
    return [f"use by {row.use_by.isoformat()}{several}.{over}"]


def stock_amount(amount: float, row: Stocked) -> str:
    """So much of what a row has, in the unit that people count it in."""
    size, unit = row.ingredient.counted_in
    if unit == "pieces":
        return show_count(round(amount / size, 1), "piece")
    return f"{show_number(amount, 0 if amount >= _WHOLE else 1)} {unit}"


def log_text(log: StockLog, most: int) -> str:
    """The last entries, one to a line, oldest first."""
    if not log.entries:
        return "Nothing has moved yet."
    lines = [_log_line(entry, log) for entry in log.entries[-most:]]
    hidden = len(log.entries) - len(lines)
    if hidden:
        lines.insert(0, f"{hidden} earlier: --last {len(log.entries)} shows all.")
    return "\n".join(lines)


def _log_line(entry: LogEntry, log: StockLog) -> str:
    rows = dict.fromkeys(move.ingredient for move in entry.moves)
    made = entry.what == "made"
    # Of what was made the row stands behind what went in.
    one = entry.moves[-1].ingredient if made else entry.moves[0].ingredient
    moves = [move for move in entry.moves if move.ingredient == one]
    said = one if made or len(rows) == 1 else f"{len(rows)} rows"
    if said == one:
        own = next((move for move in moves if move.cell == "on_hand"), moves[0])
        said += f"  {_move_words(own)}"
    what = entry.what if entry.undoes is None else f"undo {entry.undoes}"
    why = _why(entry, "  (", ")")
    gone = "  undone" if log.undone(entry.number) else ""
    return f"{entry.number:>4}  {entry.day.isoformat()}  {what:<7}  {said}{why}{gone}"


def entry_text(entry: LogEntry, log: StockLog) -> str:
    """All that one entry changed."""
    lines = [f"Entry {_entry_words(entry)}{'; undone' if log.undone(entry.number) else ''}"]
    for key in dict.fromkeys(move.ingredient for move in entry.moves):
        own = [move for move in entry.moves if move.ingredient == key]
        lines += [f"  {key}  {said}" for said in _moves_words(own)]
    return "\n".join(lines)
