"""What was understood of somebody's list of bottles, and what came of it."""

from __future__ import annotations

import shlex

from solver.pantry.bar import Bar
from solver.pantry.library import BY_KIND
from solver.printable import short
from solver.show.contract import document
from solver.show.shelf_edit import like_words
from solver.tasks.shelf_import.columns import SAID
from solver.tasks.shelf_import.read_list import NEW_LIKE, Fate, ListLine, Understood

_WIDTHS = (5, 30, 26, 9, 9, 13)


def understood_text(found: Understood) -> str:
    """The table of what is understood, then what is not, and what to do about it."""
    lines = [_columns(found), ""]
    if found.those(Fate.NEW, Fate.CHANGED):
        lines.append(_row("line", "it says", "taken for", "size", "price", "on hand"))
        lines += [_line(line) for line in found.lines if line.written]
        lines.append("")
    said = ((Fate.THERE, "On the shelf already, and left as it is (--update changes it)"),
            (Fate.LEFT_OUT, "Left out"))  # fmt: skip
    for fate, words in said:
        if those := found.those(fate):
            names = [line.item.key if line.item else line.name for line in those]
            lines.append(f"{words}: {', '.join(dict.fromkeys(names))}.")
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


def outcome_text(found: Understood, *, written: bool) -> str:
    """One line: how many bottles went onto the shelf."""
    new, changed = len(found.those(Fate.NEW)), len(found.those(Fate.CHANGED))
    unknown = len(found.those(Fate.UNKNOWN, Fate.MISTAKEN, Fate.TWICE))
    parts = [f"{new} {'bottle' if new == 1 else 'bottles'} added"]
    if changed:
        parts.append(f"{changed} changed")
    if unknown:
        parts.append(f"{unknown} not")
    said = ", ".join(parts)
    if not found.those(Fate.NEW, Fate.CHANGED):
        return "Nothing to write."
    return f"{said}." if written else f"Nothing is written. It would be: {said}."


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
        cells.get("price", ""),
        cells.get("on_hand", ""),
    )
    remarks = [text for text in (line.taken, cells.get("overrides", "")) if text]
    return f"{row}  ({', '.join(remarks)})" if remarks else row


def _row(*cells: str) -> str:
    line, name, item, size, price, on_hand = cells
    widths = _WIDTHS
    return (
        f"{line:>{widths[0]}}  {name:<{widths[1]}}{item:<{widths[2]}}{size:>{widths[3]}}"
        f"{price:>{widths[4]}}{on_hand:>{widths[5]}}"
    ).rstrip()


def _as(line: ListLine) -> str:
    """The option that says what an unknown name is, with the likeliest guess."""
    guess = line.guesses[0] if line.guesses else "INGREDIENT"
    others = f"  or {', '.join(line.guesses[1:])}" if line.guesses[1:] else ""
    why = f"  {line.why}" if line.why and not line.why.startswith(BY_KIND) else ""
    return f"--as {shlex.quote(f'{line.name}={guess}')}{others}{why}"


def understood_json(found: Understood, bar: Bar, *, written: bool) -> str:
    """The document of a list."""
    head = found.head
    fields = {
        "written": written,
        "currency": bar.currency,
        "columns": {SAID[meaning]: head.headings[place] for meaning, place in head.places.items()},
        "not_read": list(head.unread),
        "lines": [
            {
                "line": line.line,
                "says": line.name,
                "fate": line.fate.value,
                "ingredient": line.item.key if line.item else None,
                "cells": dict(line.cells or {}),
                "guesses": list(line.guesses),
                "taken": line.taken,
                "why": line.why,
            }
            for line in found.lines
        ],
    }
    return document("shelf-import", fields)
