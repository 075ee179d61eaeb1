"""Options that several commands share. Each decorator turns what was typed into what is meant."""

from __future__ import annotations

import functools
import os
from collections.abc import Callable
from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

if TYPE_CHECKING:
    from solver.pantry.bar import Bar

Command = Callable[..., None]

json_option = click.option("--json", "as_json", is_flag=True, help="One JSON document.")

folder_option = click.option(
    "--bar", "folder", type=click.Path(path_type=Path), help="The bar's folder."
)
"""`--bar` alone, for the group: a command's own comes first."""

_REQUEST = (
    click.option("--abv", multiple=True, help="Strength: 17% is an aim, 15..18% a limit."),
    click.option("--sugar", multiple=True, help="Sugar, like 7 g/100ml or <=8 g/100ml."),
    click.option("--acid", multiple=True, help="Acid as citric, like 0.8 g/100ml."),
    click.option("--volume", multiple=True, help="In the glass, like 150 ml or <=5 oz."),
    click.option("--cost", multiple=True, help="Of one drink, like <=2.50."),
    click.option("--ethanol", multiple=True, help="Alcohol, like <=14 g."),
    click.option("--bottles", multiple=True, help="How many ingredients, like <=4."),
    click.option(
        "--goal",
        type=click.Choice(["closest", "cheapest", "lightest", "fewest"]),
        default="closest",
        show_default=True,
        help="What is best.",
    ),
    click.option("--with", "wanted", multiple=True, help="An ingredient, or one with its pour."),
    click.option(
        "--without", "unwanted", multiple=True, help="An ingredient, a kind, an allergen."
    ),
    click.option("--character", multiple=True, help="A taste that must be there, like smoke."),
    click.option("--no-character", multiple=True, help="A taste that must not."),
    click.option("--glass", help="The glass that the drink must fit."),
    click.option("--pour-set", help="What to measure with, like five-ml; the bar's own if not."),
    click.option(
        "--serves", type=click.IntRange(1), default=1, help="The stock must make so many."
    ),
    click.option("--alternatives", type=click.IntRange(0, 9), default=0, help="With another base."),
    click.option(
        "--time-limit", "seconds", type=click.FloatRange(0.1), default=60.0, help="Seconds."
    ),
)
"""Every option that asks something of a drink, in the order of the help text."""

_ASKED = ("wanted", "unwanted", "glass", "serves", "seconds", "alternatives", "character")


def bar_option(command: Command) -> Command:
    """Add `--bar`; the command is called with the opened `bar`."""

    @folder_option
    @functools.wraps(command)
    def opened(*args: Any, folder: Path | None, **kwargs: Any) -> None:
        command(*args, bar=_open(folder), **kwargs)

    return opened


def request_options(command: Command) -> Command:
    """Add `--bar` and all that a request holds; the command is called with `bar` and `request`."""

    @functools.wraps(command)
    def asked(*args: Any, bar: Bar, pour_set: str | None, **kwargs: Any) -> None:
        from solver.measures import MEASURES
        from solver.search.problem import Goal
        from solver.tasks.request import Request

        request = Request(
            measures={name: kwargs.pop(name) for name in MEASURES},
            goal=Goal(kwargs.pop("goal")),
            no_character=kwargs.pop("no_character"),
            **{name: kwargs.pop(name) for name in _ASKED},
        )
        bar = bar.with_pour_set(pour_set) if pour_set else bar
        command(*args, bar=bar, request=request, **kwargs)

    for option in reversed(_REQUEST):
        asked = option(asked)
    return bar_option(asked)


def _open(folder: Path | None) -> Bar:
    """The bar of `--bar` after the command, else before it, else of the environment, else found."""
    from solver.pantry.bar import find_bar, load_bar

    asked = folder or click.get_current_context().find_root().params.get("folder")
    return load_bar(find_bar(Path.cwd(), asked, os.environ.get("EQUIPOUR_BAR")))
