"""What moved on the shelf, for people and for programs."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import timedelta
from typing import Any

from solver.pantry.bar import Bar
from solver.pantry.on_hand import written_on_hand
from solver.pantry.stock_log import HOUSE, ROW, LogEntry, Move, StockLog
from solver.pantry.stocked import Stocked
from solver.quantities import show_count, show_money, show_number
from solver.show.contract import document
from solver.show.names_in_a_row import listed
from solver.tasks.stock.movement import Movement, StockMoved
from solver.tasks.stock.sales import RanOut, Sold

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
        amount = amount or _amount(abs(moved.more), moved.row)
        lines[0] += f": {amount} {side} than expected"
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
    if row.bottle and row.on_hand is not None and row.on_hand > row.bottle:
        several = ", for all that is there: the shelf has one date for each row"
    return [f"use by {row.use_by.isoformat()}{several}.{over}"]


def _amount(amount: float, row: Stocked) -> str:
    size, unit = row.ingredient.counted_in
    if row.ingredient.loose:
        return show_count(round(amount / size, 1), "piece")
    return f"{show_number(amount, 0 if amount >= _WHOLE else 1)} {unit}"


def movement_json(found: Movement) -> str:
    """The document of a movement."""
    return document(f"stock {found.entry.what}", _movement_fields(found))


def _movement_fields(found: Movement) -> dict[str, Any]:
    return {"entry": _entry_fields(found.entry), "rows": [_row_fields(row) for row in found.rows]}


def _entry_fields(entry: LogEntry) -> dict[str, Any]:
    return {
        "number": entry.number,
        "date": entry.day.isoformat(),
        "what": entry.what,
        "why": entry.why,
        "file": entry.file,
        "undoes": entry.undoes,
        "moves": [
            {"ingredient": m.ingredient, "cell": m.cell, "before": m.before, "after": m.after}
            for m in entry.moves
        ],
    }


def _row_fields(moved: StockMoved) -> dict[str, Any]:
    per = moved.row.ingredient.per
    now = moved.after
    return {
        "ingredient": moved.key,
        f"before_{per}": moved.before.on_hand if moved.before else None,
        f"after_{per}": now.on_hand if now else None,
        "use_by": now.use_by.isoformat() if now and now.use_by else None,
    }


def sold_text(found: Sold) -> str:
    """What was sold, what it took, and what is left; then what was not taken off, and why."""
    if not found.drinks:
        return "\n".join(["No drink was sold: nothing was written.", *_sold_remarks(found)])
    total = show_count(sum(drunk.number for drunk in found.drinks), "drink")
    lines = [f"{total} sold: {_drinks_words(found)}.", *_batch_lines(found)]
    rows = found.movement.rows if found.movement else ()
    if rows:
        lines += ["", f"  {'':<30}{'poured':>12}{'left':>12}"]
        for moved in rows:
            left = moved.row.on_hand or 0.0
            poured = _amount(found.poured[moved.key], moved.row)
            lines.append(f"  {moved.key[:29]:<30}{poured:>12}{_amount(left, moved.row):>12}")
        lines.append("")
    lines += _sold_remarks(found)
    if found.movement is None:
        lines.append("Nothing of it is on the shelf: nothing was written.")
    else:
        number = found.movement.entry.number
        lines.append(f"Entry {number}: `equipour stock undo {number}` takes it back.")
    return "\n".join(lines)


def _batch_lines(found: Sold) -> list[str]:
    """What came out of batches."""
    lines = []
    for each in found.batches:
        if each.past is not None:
            lines.append(
                f"{each.key} is past its last day, {each.past.lots[-1].use_by}: taken from bottles."
            )
        elif each.number:
            number = show_number(each.number)
            lines.append(f"{number} {each.spec.name} from {each.key}, {each.each_ml:.0f} mL each.")
    return lines


def _drinks_words(found: Sold) -> str:
    most = sorted(found.drinks, key=lambda drunk: -drunk.number)
    return listed(
        f"{show_number(drunk.number)} {drunk.spec.name if drunk.spec.origin else drunk.till}"
        for drunk in most
    )


def _sold_remarks(found: Sold) -> list[str]:
    lines = [_ran_out(each) for each in found.ran_out]
    for key in found.opened:
        row = found.movement.after.row(key) if found.movement else None
        use_by = f": use by {row.use_by.isoformat()}" if row and row.use_by else ""
        lines.append(f"The last bottle of {key} is open now{use_by}.")
    if found.begun:
        lines.append(
            f"A new bottle was begun of {listed(found.begun)}. The shelf keeps the date of the one"
            f" before until `equipour stock open {found.begun[0]}`."
        )
    for row in found.past:
        if row.use_by is not None:
            last = row.use_by.isoformat()
            lines.append(f"{row.ingredient.key} was poured past its last day, {last}: look at it.")
    if found.absent:
        lines.append(f"Not on the shelf, so nothing was taken: {listed(found.absent)}.")
    if found.uncounted:
        lines.append(f"Never counted, so nothing was taken: {listed(found.uncounted)}.")
    if found.unweighed:
        lines.append(f"Garnish that nobody has weighed: {listed(found.unweighed)}.")
    if found.skipped:
        lines.append(f"Left out: {listed(line.name for line in found.skipped)}.")
    return lines


def _ran_out(each: RanOut) -> str:
    over = each.poured - (each.row.on_hand or 0.0)
    key = each.row.ingredient.key
    return f"{key} ran out: {_amount(over, each.row)} more were poured than the shelf knew of."


def sold_json(found: Sold) -> str:
    """The document of sales."""
    return document("stock sold", sold_fields(found))


def sold_fields(found: Sold) -> dict[str, Any]:
    """The fields of that document."""
    movement = _movement_fields(found.movement) if found.movement else {"entry": None, "rows": []}
    for row in movement["rows"]:
        per = "g" if "after_g" in row else "ml"
        row[f"poured_{per}"] = found.poured[row["ingredient"]]
    return {
        "drinks": [
            {"spec": drunk.spec.name, "till": drunk.till, "sold": drunk.number}
            for drunk in found.drinks
        ],
        "from_batches": [
            {
                "spec": each.spec.name,
                "batch": each.key,
                "serves": each.number,
                "each_ml": each.each_ml,
                "past": each.past is not None,
            }
            for each in found.batches
        ],
        **movement,
        "not_on_shelf": list(found.absent),
        "never_counted": list(found.uncounted),
        "garnish_not_weighed": list(found.unweighed),
        "ran_out": [each.row.ingredient.key for each in found.ran_out],
        "opened": list(found.opened),
        "new_bottle_begun": list(found.begun),
        "past": [row.ingredient.key for row in found.past],
        "skipped": [line.name for line in found.skipped],
    }


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


def log_json(log: StockLog, entries: Sequence[LogEntry]) -> str:
    """The document of some entries of the log."""
    return document("stock log", log_fields(log, entries))


def log_fields(log: StockLog, entries: Sequence[LogEntry]) -> dict[str, Any]:
    """The fields of that document."""
    return {"entries": [{**_entry_fields(e), "undone": log.undone(e.number)} for e in entries]}


def past_text(bar: Bar, days: int) -> str:
    """What is past its last day, and what will be within some days, with what is left of it."""
    past = _past(bar)
    lines = ["Past its last day, and poured nowhere:"] if past else []
    lines += [_past_line(row, bar) for row in past]
    soon = _soon(bar, days)
    if soon:
        lines += [*([""] if lines else []), f"By {_until(bar, days)}:"]
        lines += [_past_line(row, bar) for row in soon]
    return "\n".join(lines) or f"Nothing is past its last day, nor will be by {_until(bar, days)}."


def _until(bar: Bar, days: int) -> str:
    return (bar.today + timedelta(days=days)).isoformat()


def _past(bar: Bar) -> list[Stocked]:
    """What is past, each batch by itself."""
    rows = (row for row in (*bar.past, *bar.past_lots) if row.fruit is None)
    return _by_day([lot for row in rows for lot in row.lots])


def _soon(bar: Bar, days: int) -> list[Stocked]:
    until = bar.today + timedelta(days=days)
    there = (lot for row in bar.stock if row.on_hand != 0 for lot in row.lots)
    return _by_day([row for row in there if row.use_by is not None and row.use_by <= until])


def _by_day(rows: Sequence[Stocked]) -> list[Stocked]:
    return sorted(rows, key=lambda row: (str(row.use_by), row.ingredient.key))


def _past_line(row: Stocked, bar: Bar) -> str:
    day = row.use_by.isoformat() if row.use_by else ""
    left = "not counted" if row.on_hand is None else _amount(row.on_hand, row)
    worth = _worth(row)
    price = "" if worth is None else show_money(worth, bar.currency)
    return f"  {row.ingredient.key[:29]:<30}{day:>12}{left:>13}{price:>12}".rstrip()


def _worth(row: Stocked) -> float | None:
    price = row.price_per_unit
    return None if price is None or row.on_hand is None else price * row.on_hand


def past_json(bar: Bar, days: int) -> str:
    """The document of what is past its last day, and soon will be."""
    return document("stock past", past_fields(bar, days))


def past_fields(bar: Bar, days: int) -> dict[str, Any]:
    """The fields of that document."""
    return {
        "today": bar.today.isoformat(),
        "currency": bar.currency,
        "past": [_past_fields(row) for row in _past(bar)],
        "within_days": days,
        "soon": [_past_fields(row) for row in _soon(bar, days)],
    }


def _past_fields(row: Stocked) -> dict[str, Any]:
    return {
        "ingredient": row.ingredient.key,
        "use_by": row.use_by.isoformat() if row.use_by else None,
        f"on_hand_{row.ingredient.per}": row.on_hand,
        "worth": _worth(row),
    }
