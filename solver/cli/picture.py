"""`--picture`: where a picture goes, and what it may take the place of."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import TYPE_CHECKING

import click

from solver.cli.options import Command
from solver.errors import BadInput, Where

if TYPE_CHECKING:
    from solver.files.atomic import Place


def picture_options(command: Command) -> Command:
    """Add `--picture` and `--replace`."""
    replace = click.option(
        "--replace", is_flag=True, help="Let --picture write over a file of another kind."
    )
    picture = click.option(
        "--picture",
        type=click.Path(path_type=Path),
        metavar="FILE.svg",
        help="Draw it, too; a picture of ours is drawn anew.",
    )
    return picture(replace(command))


def place_for_picture(path: Path | None, *, replace: bool) -> Place | None:
    """Where a picture can be written; None where none was asked for.

    Raises:
        BadInput: it is no SVG by its name, its folder is not there, or (without `replace`) there is
            a file that is no picture of ours.
    """
    if path is None:
        if replace:
            raise click.UsageError("--replace goes with --picture.")
        return None
    if path.suffix.lower() != ".svg":
        raise BadInput("a picture is an SVG file", where=Where(path), remedy="Call it FILE.svg.")
    what = "there is a file that equipour did not draw"
    return place_for_file(path, replace=replace, ours=_ours, taken=what)


def place_for_file(
    path: Path,
    *,
    replace: bool,
    ours: Callable[[Path], bool] = lambda _: False,
    taken: str = "there is a file of that name",
) -> Place:
    """Where a file can be written.

    Raises:
        BadInput: its folder is not there, or (without `replace`) a file is there and not `ours`.
    """
    from solver.files.atomic import Place
    from solver.files.read import version_at

    where = Where(path)
    try:
        if not path.parent.is_dir():
            raise BadInput("there is no such folder", where=Where(path.parent))
        in_the_way = path.exists() and not (replace and path.is_file()) and not ours(path)
        path = path.absolute()
    except (OSError, ValueError):
        raise BadInput("the file cannot be read or written", where=where) from None
    if in_the_way:
        raise BadInput(taken, where=where, remedy="Choose another name, or add --replace.")
    return Place(path, version_at(path))


def write_picture(picture: str, place: Place) -> None:
    """Write a picture, whole or not at all.

    Raises:
        BadInput: the file cannot be written, or is not what it was.
    """
    from solver.files.atomic import Change, write

    write(place.path.parent, [Change(place, picture.encode())])


def _ours(path: Path) -> bool:
    """Whether a file is a picture that equipour drew."""
    from solver.show.chart import MARK

    if not path.is_file():
        return False
    with path.open("rb") as file:
        return file.read(len(MARK)) == MARK.encode()
