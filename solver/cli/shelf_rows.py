"""`equipour shelf add`, `set` and `remove`: one row of the shelf."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import TYPE_CHECKING

import click

from solver.cli.bar_option import folder_option, opened
from solver.cli.complete import complete_ingredient
from solver.cli.options import Command, json_option
from solver.cli.output import near, note, say

if TYPE_CHECKING:
    from solver.pantry.bar import Bar
    from solver.tasks.shelf_edit import Restocked

_CELLS = (
    click.option("--size", help="Of one bottle, like 700ml or 1kg."),
    click.option("--abv", help="Its strength, like 45%, where it is not the usual one."),
    click.option("--price", help="Of one bottle, like 28 or 28.50."),
    click.option("--on-hand", help="What is left: bottles, like 1.5, or like 450ml."),
    click.option("--opened", help="The day, like 2026-03-31."),
    click.option("--use-by", help="The last day to pour it."),
    click.option("--label", help="What the bar calls it: it answers to that, and cards say so."),
    click.option("--note", help="Anything you want to remember."),
)


def _cell_options(command: Command) -> Command:
    for option in reversed(_CELLS):
        command = option(command)
    return command


@click.command()
@click.argument("ingredient", shell_complete=complete_ingredient)
@click.option(
    "--like",
    shell_complete=complete_ingredient,
    metavar="INGREDIENT",
    help="What one more sort of it, which is new here, is poured like: house/ gets a file of it.",
)
@_cell_options
@json_option
@folder_option
def add(
    ingredient: str, like: str | None, as_json: bool, folder: Path | None, **cells: str | None
) -> None:
    """Put one more INGREDIENT onto the shelf."""
    from solver.tasks.shelf_edit import added, added_like

    def change(bar: Bar) -> Restocked:
        if like is None:
            return added(bar, ingredient, _written(cells))
        return added_like(bar, ingredient, like, _written(cells))

    _restock("added", folder, as_json, change)


@click.command(name="set")
@click.argument("ingredient", shell_complete=complete_ingredient)
@_cell_options
@json_option
@folder_option
def set_(ingredient: str, as_json: bool, folder: Path | None, **cells: str | None) -> None:
    """Change what the shelf says of an INGREDIENT; '' empties it."""
    from solver.tasks.shelf_edit import changed

    given = _written(cells)
    if not given:
        raise click.UsageError("say what to change, like --price 28.")
    _restock("changed", folder, as_json, lambda bar: changed(bar, ingredient, given))


@click.command()
@click.argument("ingredient", shell_complete=complete_ingredient)
@json_option
@folder_option
def remove(ingredient: str, as_json: bool, folder: Path | None) -> None:
    """Take an INGREDIENT off the shelf."""
    from solver.tasks.shelf_edit import removed

    _restock("removed", folder, as_json, lambda bar: removed(bar, ingredient))


def _written(cells: dict[str, str | None]) -> dict[str, str]:
    """The cells that were typed, by the columns of a shelf."""
    given = {name: text.strip() for name, text in cells.items() if text is not None}
    if "size" in given:
        given["bottle"] = given.pop("size")
    return given


def _restock(
    what: str, folder: Path | None, as_json: bool, change: Callable[[Bar], Restocked]
) -> None:
    """Change one row and say what it is now; the answer comes before the file is written."""
    from solver.files.atomic import FileChange, prepared
    from solver.files.folders import make_folder
    from solver.show.documents.shelf_edit import restocked_json
    from solver.show.text.shelf_edit import restocked_text

    with opened(folder, alone=True) as bar:
        done = change(bar)
        changes = [FileChange(done.place, done.shelf.sheet.render())]
        if done.house is not None:
            make_folder(done.house.path.parent)
            changes.append(done.house.change)
        with prepared(done.root, changes) as put:
            said = restocked_json(what, done, bar) if as_json else restocked_text(what, done, bar)
            say(said, whole=True)
            put()
    note(f"written: {', '.join(near(change.place.path) for change in changes)}")
