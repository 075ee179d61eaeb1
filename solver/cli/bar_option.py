"""`--bar`: the bar that a command asks, opened as far as the command needs it."""

from __future__ import annotations

import enum
import functools
from collections.abc import Iterable, Iterator
from contextlib import AbstractContextManager, contextmanager, nullcontext
from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from solver.cli.folder import bar_folder
from solver.cli.opened import open_bar
from solver.cli.options import Command, Decorator
from solver.cli.output import complain, near, note
from solver.errors import BadInput, BadInputs

if TYPE_CHECKING:
    from solver.pantry.bar import Bar
    from solver.pantry.spec import Misread


folder_option = click.option(
    "--bar", "folder", type=click.Path(path_type=Path), help="The bar's folder."
)
"""`--bar` alone, for the group: a command's own comes first."""


def bar_option(command: Command) -> Command:
    """Add `--bar`; the command is called with the opened `bar`."""
    return _bar_option()(command)


def held_bar_option(*by: str) -> Decorator:
    """As `bar_option`; the bar is held for the whole command where an option of `by` is given.

    For quick commands that write what they read: two of them at a time follow each other.
    """
    return _bar_option(by)


def writing_bar_option(command: Command) -> Command:
    """As `bar_option`; the bar is held for the whole command, which always writes."""
    return _bar_option(always_held=True)(command)


def shelfless_bar_option(command: Command) -> Command:
    """As `bar_option`, for what the shelf says little about: a mistake in it is only noted."""
    return _bar_option(shelf=ShelfNeed.IF_READABLE)(command)


def unstocked_bar_option(command: Command) -> Command:
    """As `bar_option`, without its shelf."""
    return _bar_option(shelf=ShelfNeed.NOT)(command)


@enum.unique
class ShelfNeed(enum.Enum):
    """Whether a command needs the shelf of the bar."""

    NEEDED = enum.auto()
    IF_READABLE = enum.auto()
    NOT = enum.auto()


def _bar_option(
    held_by: tuple[str, ...] = (), shelf: ShelfNeed = ShelfNeed.NEEDED, *, always_held: bool = False
) -> Decorator:
    def option(command: Command) -> Command:
        @folder_option
        @functools.wraps(command)
        def with_bar(*args: Any, folder: Path | None, **kwargs: Any) -> None:
            alone = always_held or any(kwargs[name] for name in held_by)
            with opened(folder, alone=alone, shelf=shelf) as bar:
                # What only moves stock, or looks little at it, asks for no price.
                asks = shelf is ShelfNeed.NEEDED and not always_held
                command(*args, bar=_with_costs(bar) if asks else bar, **kwargs)

        return with_bar

    return option


def _with_costs(bar: Bar) -> Bar:
    from solver.tasks.price.house_recipe_costs import with_costs

    return with_costs(bar)


@contextmanager
def opened(
    folder: Path | None, *, alone: bool = False, shelf: ShelfNeed = ShelfNeed.NEEDED
) -> Iterator[Bar]:
    """The bar of `--bar`, `folder` or wherever it is found; held meanwhile where `alone`."""
    root = bar_folder(click.get_current_context(), folder)
    with _held(root, alone=alone):
        yield _open(root, shelf)


def _held(root: Path | None, *, alone: bool) -> AbstractContextManager[None]:
    from solver.files.lock import locked

    return locked(root, tell=note) if root is not None and alone else nullcontext()


def tell_misread(misread: Iterable[Misread]) -> None:
    """Say on standard error which specs are left aside: the others stand without them."""
    for each in misread:
        complain(f"{near(each.path)} is left aside: {each.error}")


def _open(root: Path | None, shelf: ShelfNeed) -> Bar:
    """The bar, after what a killed command had begun to write there is ended, and told."""
    from solver.files.atomic import settled
    from solver.pantry.load_bar import load_bar

    with nullcontext() if root is None else settled(root, tell=note):
        try:
            with_shelf = shelf is not ShelfNeed.NOT
            load = functools.partial(load_bar, root, with_shelf=with_shelf)
            return open_bar(root, with_shelf, lambda: _with_written_ahead(load()))
        except (BadInput, BadInputs) as error:
            if shelf is not ShelfNeed.IF_READABLE:
                raise
            bar = load_bar(root, with_shelf=False)  # raises again unless the shelf was at fault
            complain(f"the shelf is left out: {error}")
            return _with_written_ahead(bar)


def _with_written_ahead(bar: Bar) -> Bar:
    """The bar with what its specs pour though it is not cooked yet; what cooks is loaded for it."""
    if not bar.written_ahead:
        return bar
    from solver.tasks.prep.uncooked import with_written_ahead

    return with_written_ahead(bar)
