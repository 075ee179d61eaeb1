"""`equipour init`: a new bar, after four questions."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

import click

from solver.cli import terminal
from solver.cli.complete import complete_pour_set
from solver.cli.folder import here
from solver.cli.options import json_option
from solver.cli.output import near, note, say
from solver.errors import BadInput
from solver.printable import short

if TYPE_CHECKING:
    from collections.abc import Callable

    from solver.tasks.new_bar import Choices


@click.command(short_help="A new bar, ready to be asked.")
@click.argument("folder", type=click.Path(path_type=Path), default=".")
@click.option("--country", help="Where it is, for standard drinks and allergens.")
@click.option("--currency", help="Its code of three letters, like EUR; none for no prices.")
@click.option("--unit", type=click.Choice(["oz", "ml"]), help="What amounts are told in.")
@click.option(
    "--pour-set", help="What the jigger measures, like five-ml.", shell_complete=complete_pour_set
)
@click.option("--empty", is_flag=True, help="No bottles, no recipe and no spec: yours alone.")
@click.option("--yes", is_flag=True, help="Ask nothing; take what is usual for the rest.")
@json_option
def init(
    folder: Path,
    country: str | None,
    currency: str | None,
    unit: str | None,
    pour_set: str | None,
    empty: bool,
    yes: bool,
    as_json: bool,
) -> None:
    """A new bar in FOLDER: settings, a dozen bottles, a house recipe and a spec, all to be edited.

    What is not said is asked on a terminal; elsewhere what is usual is taken, and told. Nothing
    that is there is written over.
    """
    from solver.pantry.folders import BAR_FILE
    from solver.show.documents.new_bar import opened_json
    from solver.show.text.new_bar import opened_text
    from solver.tasks.new_bar import check_room, new_bar

    check_room(folder)
    asking = not yes and terminal.is_there()
    choices = _choices(country, currency, unit, pour_set, asking=asking)
    with new_bar(folder, choices, empty=empty) as (opened, put):
        say(opened_json(opened) if as_json else opened_text(opened, here()), whole=True)
        put()
    note(f"written: {near(opened.root / BAR_FILE)} and what belongs to it")


def _choices(
    country: str | None,
    currency: str | None,
    unit: str | None,
    pour_set: str | None,
    *,
    asking: bool,
) -> Choices:
    """What was typed, and for the rest what is answered, or usual."""
    from solver.pantry.bar_file import currency_code
    from solver.pantry.defaults import load_defaults
    from solver.tasks.new_bar import (
        ELSEWHERE,
        USUAL_COUNTRY,
        Choices,
        country_called,
        pour_sets_in,
        usual_unit,
    )

    defaults = load_defaults()

    def settled(given: str | None, question: str, usual: str, read: Callable[[str], str]) -> str:
        if given is not None:
            return read(given)
        return terminal.ask(question, usual, read) if asking else usual

    country = settled(
        country,
        f"Country, for standard drinks and allergens ({ELSEWHERE}: 10 g, the European list)",
        USUAL_COUNTRY,
        country_called,
    )
    currency = settled(
        currency,
        "Currency of your prices (none: no prices)",
        defaults.currencies.get(country, "none"),
        lambda text: text if text.casefold() == "none" else currency_code(text),
    )
    if unit is None and pour_set is not None:
        unit = defaults.pour_set(pour_set).unit
    unit = settled(unit, "Ounces or millilitres (oz, ml)", usual_unit(country), _unit)
    known = pour_sets_in("oz" if unit == "oz" else "ml")

    def pour_set_of(text: str) -> str:
        found = defaults.pour_set(text)
        if found.unit != unit:
            raise BadInput(f"{found.name} measures in {found.unit}", remedy=f"In {unit}: {said}.")
        return found.name

    said = " or ".join(known)
    pour_set = settled(pour_set, f"Jigger ({said})", known[0], pour_set_of)
    return Choices(pour_set, "" if currency.casefold() == "none" else currency, country)


def _unit(text: str) -> str:
    if text not in ("oz", "ml"):
        raise BadInput(f"'{short(text)}' is not a unit known here", remedy="Write oz or ml.")
    return text
