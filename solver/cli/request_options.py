"""The options that ask something of a drink: what was typed becomes a request."""

from __future__ import annotations

import functools
from typing import TYPE_CHECKING, Any

import click

from solver.cli.bar_option import bar_option, tell_misread
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
from solver.cli.options import Command, Decorator, name_option, time_limit_option
from solver.cli.output import note
from solver.cli.values import StepsType, WholeNumber
from solver.measures import GOALS, MEASURES, asked_of, compared_of

if TYPE_CHECKING:
    from solver.pantry.bar import Bar


def _several(
    *names: str, says: str, complete: Completer | None = None, metavar: str | None = None
) -> Decorator:
    """An option that may be given more than once."""
    return click.option(*names, multiple=True, shell_complete=complete, help=says, metavar=metavar)


def _step(word: str, says: str) -> Decorator:
    """An option that compares, by one step where it names no number."""
    return click.option(
        f"--{word}", is_flag=False, flag_value="1", type=StepsType(), metavar="[STEPS]", help=says
    )


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
        type=click.Choice(GOALS),
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
