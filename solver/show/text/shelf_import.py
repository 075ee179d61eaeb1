"""What was understood of somebody's list of bottles, and what came of it."""

from __future__ import annotations

import shlex
from dataclasses import dataclass
from pathlib import Path

from solver.pantry.library import BY_KIND
from solver.printable import short
from solver.show.text.shelf_edit import like_words
from solver.tasks.shelf_import.columns import SAID
from solver.tasks.shelf_import.read_list import NEW_LIKE, Fate, ListLine, Understood

_WIDTHS = (5, 30, 26, 9, 8, 9, 13)


@dataclass(frozen=True)
class Rest:
    """What of the shelf is not in the list: keys that are taken off, the file that keeps the old
    shelf, and what is still there as a new bar has it.
    """

    gone: tuple[str, ...] = ()
    kept: Path | None = None
    starter: tuple[str, ...] = ()


def understood_text(found: Understood) -> str:
    """The table of what is understood, then what is not, and what to do about it."""
    lines = [_columns(found), ""]
    if found.those(Fate.NEW, Fate.CHANGED):
        lines.append(_row("line", "it says", "taken for", "size", "% vol", "price", "on hand"))
        lines += [_line(line) for line in found.lines if line.written]
        lines += ["", "% vol is the library's, with a * the list's own.", ""]
    there = "On the shelf already, with no empty cell to fill (--update changes what it says)"
    said = ((Fate.THERE, there), (Fate.LEFT_OUT, "Left out"))
    for fate, words in said:
        if those := [line for line in found.those(fate) if not line.why]:
            names = [line.item.key if line.item else line.name for line in those]
            lines.append(f"{words}: {', '.join(dict.fromkeys(names))}.")
    for line in found.those(Fate.THERE, Fate.CHANGED):
        if line.why:
            what = "price and count are left as they are (--update changes them)"
            lines.append(f"Line {line.line}, {short(line.name)}: {line.why}: {what}.")
    for line in found.those(Fate.TWICE):
        like = line.item.key if line.item else ""
        option = shlex.quote(f"{line.name}={NEW_LIKE}{like}")
        remedy = f"If it is another one, keep it beside that: --as {option}"
        lines.append(f"Line {line.line}, {short(line.name)}: {line.why}. {remedy}")
    for line in found.those(Fate.MISTAKEN):
        lines.append(f"Line {line.line}, {short(line.name)}: {line.why}")
    lines += [like_words(house) for house in found.houses]
    if unknown := found.those(Fate.UNKNOWN):
        lines += [""] * bool(lines[-1])
        lines += ["Not known, and so not written. Say what each is:", ""]
        lines += [f"  {_as(line)}" for line in unknown]
        if any(line.why.startswith(BY_KIND) for line in unknown):
            lines += ["", f"{BY_KIND}: `equipour ingredients` lists what there is."]
    return "\n".join(lines).rstrip()


def outcome_text(found: Understood, rest: Rest, *, written: bool) -> str:
    """How many bottles went onto the shelf, and what of it is not in the list."""
    lines = [_sum(found, rest, written=written)]
    if rest.gone:
        lines.append(f"Taken off, as the list has none of it: {', '.join(rest.gone)}.")
    if rest.kept:
        lines.append(f"The shelf as it was is kept in {rest.kept.name}.")
    if rest.starter:
        number = len(rest.starter)
        those = "bottle of the starter is" if number == 1 else "bottles of the starter are"
        lines.append(
            f"{number} {those} on the shelf and not in the list: {', '.join(rest.starter)}. "
            "Import it with --only to take them off."
        )
    return "\n".join(lines)


def _sum(found: Understood, rest: Rest, *, written: bool) -> str:
    """One line, which adds up to all rows of the list."""
    new, changed = len(found.those(Fate.NEW)), len(found.those(Fate.CHANGED))
    unknown = len(found.those(Fate.UNKNOWN, Fate.MISTAKEN, Fate.TWICE))
    parts = [f"{new} {'bottle' if new == 1 else 'bottles'} added"]
    if changed:
        parts.append(f"{changed} changed")
    if there := len(found.those(Fate.THERE)):
        parts.append(f"{there} as {'it was' if there == 1 else 'they were'}")
    if out := len(found.those(Fate.LEFT_OUT)):
        parts.append(f"{out} left out")
    if unknown:
        parts.append(f"{unknown} not")
    said = ", ".join(parts)
    read = f"{len(found.lines)} {'row' if len(found.lines) == 1 else 'rows'} read"
    if not found.those(Fate.NEW, Fate.CHANGED) and not rest.gone:
        return f"Nothing to write. {read}: {', '.join(parts[1:]) or 'none of a bottle'}."
    return f"{read}: {said}." if written else f"{read}. Nothing is written. It would be: {said}."


def _columns(found: Understood) -> str:
    head = found.head
    read = ", ".join(
        f"{SAID[meaning]} from '{short(head.headings[place], 30)}'"
        for meaning, place in head.places.items()
    )
    unread = ", ".join(f"'{short(heading, 30)}'" for heading in head.unread)
    return f"Read: {read}." + (f" Not read: {unread}." if unread else "")


def _line(line: ListLine) -> str:
    cells = line.cells or {}
    item = line.item.key if line.item else ""
    row = _row(
        str(line.line),
        short(line.name, _WIDTHS[1] - 2),
        item,
        cells.get("bottle", ""),
        f"{line.abv:g}*" if line.own_abv else f"{line.abv:g} " if line.abv else "",
        cells.get("price", ""),
        cells.get("on_hand", ""),
    )
    case, supplier = cells.get("case"), cells.get("supplier")
    beside = [f"case of {case}" if case else "", f"from {short(supplier, 20)}" if supplier else ""]
    said = ", ".join(filter(None, (*beside, line.taken)))
    return f"{row}  ({said})" if said else row


def _row(*cells: str) -> str:
    line, name, item, size, abv, price, on_hand = cells
    widths = _WIDTHS
    return (
        f"{line:>{widths[0]}}  {name:<{widths[1]}}{item:<{widths[2]}}{size:>{widths[3]}}"
        f"{abv:>{widths[4]}}{price:>{widths[5]}}{on_hand:>{widths[6]}}"
    ).rstrip()


def _as(line: ListLine) -> str:
    """The option that says what an unknown name is, with the likeliest guess."""
    guess = line.guesses[0] if line.guesses else "INGREDIENT"
    others = f"  or {', '.join(line.guesses[1:])}" if line.guesses[1:] else ""
    why = f"  {line.why}" if line.why and not line.why.startswith(BY_KIND) else ""
    return f"--as {shlex.quote(f'{line.name}={guess}')}{others}{why}"
