"""`--picture`: where a picture goes, and what it may take the place of."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

import click

from solver.cli.options import Command
from solver.cli.output_file import place_for_file, write_file
from solver.errors import BadInput, Where

if TYPE_CHECKING:
    from solver.files.atomic import FilePlace


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


def place_for_picture(path: Path | None, *, replace: bool) -> FilePlace | None:
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


def write_picture(picture: str, place: FilePlace) -> None:
    """Write a picture, whole or not at all.

    Raises:
        BadInput: the file cannot be written, or is not what it was.
    """
    write_file(picture.encode(), place)


def _ours(path: Path) -> bool:
    """Whether a file is a picture that equipour drew."""
    from solver.show.pages.chart import MARK

    if not path.is_file():
        return False
    with path.open("rb") as file:
        return file.read(len(MARK)) == MARK.encode()
