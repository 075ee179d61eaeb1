"""`equipour shelf import`: somebody's own list of bottles onto the shelf."""

from __future__ import annotations

import os
from collections.abc import Callable, Mapping, Sequence
from itertools import count
from pathlib import Path
from typing import TYPE_CHECKING

import click

from solver.cli import terminal
from solver.cli.bar_option import folder_option, opened
from solver.cli.options import json_option
from solver.cli.output import near, note, say
from solver.errors import BadInput

if TYPE_CHECKING:
    from solver.pantry.bar import Bar
    from solver.tasks.shelf_import.read_list import AskedName, Understood


@click.command(name="import", short_help="A list of bottles, from a CSV file or a workbook.")
@click.argument("file", type=click.Path(path_type=Path))
@click.option(
    "--as",
    "meant",
    multiple=True,
    metavar="NAME=INGREDIENT",
    help="What a name of the list is; NAME= leaves it out, 'NAME=new like gin' is one more gin.",
)
@click.option(
    "--column",
    "columns",
    multiple=True,
    metavar="WHAT=HEADING",
    help="Which column says it: name, size, price, on hand, abv and the like.",
)
@click.option(
    "--update",
    is_flag=True,
    help="Change what the shelf says already; else only empty cells are filled.",
)
@click.option(
    "--only",
    is_flag=True,
    help="Take off what is not in the list; the old shelf is kept in a file beside it.",
)
@click.option("--dry-run", is_flag=True, help="Write nothing; say what would be.")
@click.option("--yes", is_flag=True, help="Ask nothing; leave out what is not known.")
@json_option
@folder_option
def import_(
    file: Path,
    meant: tuple[str, ...],
    columns: tuple[str, ...],
    update: bool,
    only: bool,
    dry_run: bool,
    yes: bool,
    as_json: bool,
    folder: Path | None,
) -> None:
    """Put a list of bottles in FILE (.csv or .xlsx) onto the shelf.

    Columns are found by their headings, and shown. On a terminal each name that is not known is
    asked for; elsewhere it is left out, and listed with what it may be.
    """
    from solver.files.atomic import FileChange, FilePlace, prepared
    from solver.files.folders import make_folder
    from solver.files.grid import read_grid
    from solver.show.documents.shelf_import import understood_json
    from solver.show.text.shelf_import import Rest, outcome_text, understood_text
    from solver.tasks.shelf_edit import shelf_of
    from solver.tasks.shelf_import.read_list import (
        AskedName,
        not_listed,
        understand,
        untouched,
        with_list,
    )

    asked = AskedName(_pairs("--as", meant), _columns(columns), update)
    asking = not (yes or dry_run or as_json) and terminal.is_there()
    with opened(folder, alone=True) as bar:
        root, place, _ = shelf_of(bar)
        rows = read_grid(file)
        found = understand(rows, bar, asked)
        if asking:
            asked = _named(found, asked, bar)
            found = understand(rows, bar, asked)
        if not as_json:
            say(understood_text(found), whole=True)
        others = not_listed(found, bar)
        gone = others if only else ()
        shelf = with_list(found, bar, only=only)
        wanted = bool(gone or any(line.written for line in found.lines)) and not dry_run
        if wanted and asking:
            if gone:
                say(f"\nTaken off, as the list has none of it: {', '.join(gone)}.", whole=True)
            wanted = terminal.agrees("Write this onto the shelf?")
        changes = [FileChange(place, shelf.sheet.render())] if wanted else []
        for house in found.houses if wanted else ():
            make_folder(house.path.parent)
            changes.append(house.change)
        kept = free_name(root, f"shelf-before-{bar.today.isoformat()}") if wanted and gone else None
        if kept is not None:
            changes.append(FileChange(FilePlace(kept), place.path.read_bytes()))
        news = any(line.written for line in found.lines) and not only
        rest = Rest(gone, kept, untouched(others, bar) if news else ())
        with prepared(root, changes) as put:
            if as_json:
                say(understood_json(found, bar, rest, written=wanted), whole=True)
            else:
                say(f"\n{outcome_text(found, rest, written=wanted)}", whole=True)
            put()
    if wanted:
        note(f"written: {', '.join(near(change.place.path) for change in changes)}")


def free_name(root: Path, stem: str) -> Path:
    """A file of that name in which nothing stands yet."""
    names = (f"{stem}{'' if n == 1 else f'-{n}'}.csv" for n in count(1))
    return next(root / name for name in names if not os.path.lexists(root / name))


def _pairs(option: str, written: Sequence[str]) -> dict[str, str]:
    """What stands left and right of each '=', as typed more than once."""
    found: dict[str, str] = {}
    for text in written:
        name, sign, value = text.rpartition("=")
        if not sign or not name.strip():
            raise BadInput(f"{option} is not NAME=WORD", remedy=f"Write it like {option} 'a=b'.")
        found[" ".join(name.split())] = value.strip()
    return found


def _columns(written: Sequence[str]) -> Mapping[str, str]:
    """Headings by what they say."""
    from solver.tasks.shelf_import.columns import SAID

    by_word = {word: meaning for meaning, word in SAID.items()}
    found: dict[str, str] = {}
    for text in written:
        word, sign, heading = text.partition("=")
        meaning = by_word.get(word.strip().casefold().replace("_", " "))
        if meaning is None or not sign or not heading.strip():
            remedy = f"Write it like --column name=Product; known: {', '.join(by_word)}."
            raise BadInput("a column is not WHAT=HEADING", remedy=remedy)
        found[meaning] = heading.strip()
    return found


def _named(found: Understood, asked: AskedName, bar: Bar) -> AskedName:
    """What somebody says that each unknown name is."""
    from dataclasses import replace

    from solver.tasks.shelf_import.read_list import LEAVE_OUT, Fate

    meant = dict(asked.meant)
    names = {line.name: line.guesses for line in found.those(Fate.UNKNOWN)}
    for name, guesses in names.items():
        listed = "".join(f"  {n} {key}" for n, key in enumerate(guesses, start=1))
        question = f"'{name}' is:{listed}  0 none, leave it out; or another name"
        meant[name] = terminal.ask(question, "0", _answer(guesses, bar, LEAVE_OUT))
    return replace(asked, meant=meant)


def _answer(guesses: Sequence[str], bar: Bar, leave_out: str) -> Callable[[str], str]:
    """Reads an answer: the number of a guess, 0 for none, or a name."""

    from solver.tasks.shelf_import.read_list import NEW_LIKE

    def read(text: str) -> str:
        if text == "0":
            return leave_out
        if text.isdecimal() and int(text) <= len(guesses):
            return guesses[int(text) - 1]
        if text.casefold().startswith(NEW_LIKE):
            return f"{NEW_LIKE}{bar.library.find(text[len(NEW_LIKE) :]).key}"
        return bar.library.find(text).key

    return read
