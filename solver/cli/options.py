"""Options that several commands share. Each decorator turns what was typed into what is meant."""

from __future__ import annotations

import enum
import functools
from collections.abc import Callable, Iterable, Iterator
from contextlib import AbstractContextManager, contextmanager, nullcontext
from pathlib import Path
from typing import TYPE_CHECKING, Any

import click
from click.core import ParameterSource

from solver.cli.complete import (
    Completer,
    complete_avoidable,
    complete_character,
    complete_glass,
    complete_ingredient,
    complete_measure,
    complete_pour_set,
    complete_word,
)
from solver.cli.folder import bar_folder
from solver.cli.opened import open_bar
from solver.cli.output import complain, near, note
from solver.cli.values import Seconds, StepsType, WholeNumber, named
from solver.errors import BadInput, BadInputs
from solver.measures import MEASURES, asked_of, compared_of

if TYPE_CHECKING:
    from solver.pantry.bar import Bar
    from solver.pantry.spec import Misread

Command = Callable[..., None]
Decorator = Callable[[Command], Command]

json_option = click.option("--json", "as_json", is_flag=True, help="One JSON document.")


def table_options(command: Command) -> Command:
    """Add `--json` and `--csv`; the command is called with `as_json` and `as_csv`, one at most."""

    @click.option("--csv", "as_csv", is_flag=True, help="The table for a spreadsheet.")
    @json_option
    @functools.wraps(command)
    def told(*args: Any, as_json: bool, as_csv: bool, **kwargs: Any) -> None:
        if as_json and as_csv:
            raise click.UsageError("an answer has one form: choose --json or --csv.")
        command(*args, as_json=as_json, as_csv=as_csv, **kwargs)

    return told


folder_option = click.option(
    "--bar", "folder", type=click.Path(path_type=Path), help="The bar's folder."
)
"""`--bar` alone, for the group: a command's own comes first."""


def _several(
    *names: str, says: str, complete: Completer | None = None, metavar: str | None = None
) -> Decorator:
    """An option that may be given more than once."""
    return click.option(*names, multiple=True, shell_complete=complete, help=says, metavar=metavar)


def name_option(*names: str, says: str, complete: Completer) -> Decorator:
    """An option that names one thing; an empty name, a slip of scripts, is refused."""
    return click.option(*names, callback=named, shell_complete=complete, help=says)


def _step(word: str, says: str) -> Decorator:
    """An option that compares, by one step where it names no number."""
    return click.option(
        f"--{word}", is_flag=False, flag_value="1", type=StepsType(), metavar="[STEPS]", help=says
    )


def time_limit(default: float) -> Decorator:
    """`--time-limit`, so many seconds where nobody says: one clock for the whole of a command."""
    return click.option(
        "--time-limit",
        "seconds",
        type=Seconds(0.1),
        default=default,
        show_default=True,
        metavar="SECONDS",
        help="How long to search at most, all in all.",
    )


time_limit_option = time_limit(60.0)

unproven_option = click.option(
    "--unproven", is_flag=True, help="Write it, though there was no time to prove it."
)
"""The word without which nothing is written that is not proven."""

NOT_PROVEN = "a longer --time-limit may prove it; --unproven writes it all the same"
"""What to do where something was not written."""


_REQUEST: tuple[Decorator, ...] = (
    *(_several(f"--{name}", says=each.help) for name, each in asked_of(MEASURES.values()).items()),
    _several(
        "--beyond",
        metavar="MEASURE",
        says="Need not keep the profile's own limits on it, like abv.",
        complete=complete_measure,
    ),
    _several("--standard-drinks", says="Of where the bar is, like <=1."),
    *(_step(each.word, each.help) for each in compared_of(MEASURES.values()).values()),
    click.option(
        "--goal",
        type=click.Choice(["in-keeping", "cheapest", "lightest", "fewest"]),
        default="in-keeping",
        show_default=True,
        help="What is best, of all that is on target.",
    ),
    click.option(
        "--in-keeping",
        "dial",
        type=click.Choice(["by-the-book", "familiar", "seldom-poured"]),
        default="familiar",
        show_default=True,
        help="How far from what books pour.",
    ),
    _several(
        "--feature",
        says="An ingredient to show, with little beside it.",
        complete=complete_ingredient,
    ),
    _several(
        "--with",
        "wanted",
        says="An ingredient, or one with its pour.",
        complete=complete_ingredient,
    ),
    _several(
        "--without",
        "unwanted",
        says="An ingredient, a kind, an allergen.",
        complete=complete_avoidable,
    ),
    _several(
        "--character",
        says="A taste that must be there; or how loud, in usual pours: 'smoke <=0.5'.",
        complete=complete_character,
    ),
    _several("--no-character", says="A taste that must not.", complete=complete_character),
    _several(
        "--word",
        "words",
        metavar="WORD",
        says="In a word of the bar's, like bright or autumn.",
        complete=complete_word,
    ),
    name_option("--glass", says="The glass that the drink must fit.", complete=complete_glass),
    name_option(
        "--pour-set", says="What to measure with, like five-ml.", complete=complete_pour_set
    ),
    click.option(
        "--serves", metavar="N", type=WholeNumber(1), default=1, help="The stock must make so many."
    ),
    click.option("--only-priced", is_flag=True, help="Leave out what has no price."),
    time_limit_option,
)
"""Every option that asks something of a drink, in the order of the help text."""

_ASKED = (
    "wanted",
    "unwanted",
    "glass",
    "serves",
    "seconds",
    "character",
    "words",
    "standard_drinks",
    "beyond",
    "feature",
)

alternatives_option = click.option(
    "--alternatives", metavar="N", type=WholeNumber(0, 9), default=0, help="With another base."
)
"""For a command with `request_options` that can offer more than one drink."""

floor_option = click.option(
    "--as-in-keeping-as",
    metavar="SHARE",
    help="As much as so many published drinks: 90% is nine of ten.",
)
"""For a command with `request_options` that can hold a drink to what is in keeping."""


def only_with(there: bool, partner: str, *parameters: str) -> None:
    """Refuse what was typed of some parameters where `partner`, which they belong to, is not.

    An option without effect would be taken for one that had it.
    """
    context = click.get_current_context()
    for each in context.command.params:
        typed = context.get_parameter_source(each.name or "") is ParameterSource.COMMANDLINE
        if not there and typed and each.name in parameters:
            raise click.UsageError(f"{each.opts[0]} goes with {partner}.")


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
    from solver.tasks.price.by_recipe import with_costs

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


def request_options(command: Command) -> Command:
    """Add `--bar` and all that a request holds; the command is called with `bar` and `request`."""

    def asked(*args: Any, bar: Bar, pour_set: str | None, only_priced: bool, **kwargs: Any) -> None:
        from solver.harmony.dial import Dial
        from solver.requests.read import Written, read_request
        from solver.requests.request import ComparedStep
        from solver.search.problem import Goal

        written = Written(
            measures={name: kwargs.pop(name) for name in asked_of(MEASURES.values())},
            goal=Goal(kwargs.pop("goal")),
            dial=Dial(kwargs.pop("dial")),
            no_character=kwargs.pop("no_character"),
            steps=tuple(
                ComparedStep(word, by)
                for word in compared_of(MEASURES.values())
                if (by := kwargs.pop(word))
            ),
            alternatives=kwargs.pop("alternatives", 0),
            as_in_keeping_as=kwargs.pop("as_in_keeping_as", None),
            **{name: kwargs.pop(name) for name in _ASKED},
        )
        bar = bar.with_pour_set(pour_set) if pour_set else bar
        if recipes := bar.not_cooked(written.named):
            from solver.tasks.prep.uncooked import with_uncooked

            bar = with_uncooked(bar, recipes)
        if only_priced:
            bar = _priced_alone(bar)
        tell_misread(bar.book.misread)
        command(*args, bar=bar, request=read_request(written, bar), **kwargs)

    whole: Command = functools.wraps(command)(asked)
    for option in reversed(_REQUEST):
        whole = option(whole)
    return bar_option(whole)


def _priced_alone(bar: Bar) -> Bar:
    """The bar without what has no price, which is said on standard error.

    Raises:
        BadInput: nothing has one.
    """
    from solver.pantry.missing_prices import priced_alone

    priced, gone = priced_alone(bar)
    if gone:
        note(f"left out, as they have no price: {', '.join(gone)}")
    return priced


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
