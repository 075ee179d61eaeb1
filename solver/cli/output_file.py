"""`--output`: where a page goes, what it may take the place of, and that it is written."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import TYPE_CHECKING

import click

from solver.cli.options import Command, Decorator, only_with
from solver.cli.output import near, note
from solver.errors import BadInput, Where

if TYPE_CHECKING:
    from solver.files.atomic import FilePlace


def output_options(metavar: str, says: str) -> Decorator:
    """Add `--output` and `--replace`; the command is called with `place` and `replace`."""

    def option(command: Command) -> Command:
        replace = click.option(
            "--replace", is_flag=True, help="Let --output write over a file that is there."
        )
        output = click.option(
            "--output", "-o", "place", type=click.Path(path_type=Path), metavar=metavar, help=says
        )
        return output(replace(command))

    return option


def output_place(path: Path | None, *, replace: bool) -> FilePlace | None:
    """Where `--output` can be written; None where it was not given.

    Raises:
        BadInput: as `place_for_file`.
        click.UsageError: `--replace` was given without it.
    """
    only_with(path is not None, "--output", "replace")
    return None if path is None else place_for_file(path, replace=replace)


def place_for_file(
    path: Path,
    *,
    replace: bool,
    ours: Callable[[Path], bool] = lambda _: False,
    taken: str = "there is a file of that name",
) -> FilePlace:
    """Where a file can be written.

    Raises:
        BadInput: its folder is not there, or (without `replace`) a file is there and not `ours`.
    """
    from solver.files.atomic import FilePlace
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
    return FilePlace(path, version_at(path))


def write_file(content: bytes, place: FilePlace) -> None:
    """Write a file, whole or not at all.

    Raises:
        BadInput: the file cannot be written, or is not what it was.
    """
    from solver.files.atomic import FileChange, write

    write(place.path.parent, [FileChange(place, content)])


def write_output(content: bytes, place: FilePlace) -> None:
    """Write what `--output` asked for, and say where."""
    write_file(content, place)
    note(f"written: {near(place.path)}")


def page_bytes(html: str, ending: str) -> bytes:
    """What is written of a page into a file that ends so: the page itself, or its print.

    Raises:
        BadInput: what prints it is not installed.
    """
    if ending != ".pdf":
        return html.encode()
    from solver.show.pages.pdf import printed

    return printed(html)
