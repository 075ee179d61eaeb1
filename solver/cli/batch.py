"""`equipour batch`: a drink mixed ahead for a night."""

from __future__ import annotations

from datetime import date
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING

import click

from solver.cli.bar_option import held_bar_option
from solver.cli.complete import complete_spec, complete_technique
from solver.cli.options import json_option, language_option, name_option, only_with
from solver.cli.output import say, stock
from solver.cli.output_file import output_options, output_place, page_bytes, write_output
from solver.cli.values import WholeNumber, day

if TYPE_CHECKING:
    from solver.files.atomic import FilePlace
    from solver.pantry.bar import Bar
    from solver.tasks.batch import Batch


@click.command(short_help="A drink mixed ahead, with its water.")
@click.argument("drink", nargs=-1, required=True, shell_complete=complete_spec)
@click.option("--serves", metavar="N", type=WholeNumber(1, 100_000), help="How many drinks.")
@click.option("--make", metavar="VOLUME", help="How much in the bottle, like '2 L'.")
@click.option("--bottle", metavar="SIZE", help="What it is bottled in, like '750 ml'.")
@click.option("--bottles", metavar="N", type=WholeNumber(1, 10_000), help="Fill so many of them.")
@click.option("--keg", metavar="SIZE", help="Fill a keg, like '5 gal'.")
@click.option("--at", "cold", metavar="TEMPERATURE", help="How cold it is served, like -12C.")
@click.option(
    "--on-ice",
    type=click.Choice(["never", "briefly", "again"]),
    help="Whether each serve meets ice again: its water is then left out.  [default: as made]",
)
@click.option("--water", metavar="SHARE", help="Water in the bottle, like 22%, whatever melts.")
@click.option("--top", "topped", multiple=True, help="A pour that is added after the ice.")
@name_option(
    "--technique", says="How it is made: shake, stir, build, ...", complete=complete_technique
)
@click.option("--step", default="1 ml", show_default=True, help="Measure in '5 ml', or '1 g'.")
@click.option("--made", callback=day, help="The day it is made.")
@click.option("--why", is_flag=True, help="How it is known how long it keeps.")
@click.option("--label", is_flag=True, help="Only its label.")
@output_options("FILE", "Label: a sheet of them, one a bottle: .html or .pdf.")
@language_option
@click.option("--stock", "to_stock", is_flag=True, help="Put it on the shelf, and take off it.")
@click.option("--again", is_flag=True, help="Stock: though one of that day is there.")
@json_option
@held_bar_option("to_stock")
def batch(
    drink: tuple[str, ...],
    serves: int | None,
    make: str | None,
    bottle: str | None,
    bottles: int | None,
    keg: str | None,
    cold: str | None,
    on_ice: str | None,
    water: str | None,
    topped: tuple[str, ...],
    technique: str | None,
    step: str,
    made: date | None,
    why: bool,
    label: bool,
    place: Path | None,
    replace: bool,
    language: str | None,
    to_stock: bool,
    again: bool,
    as_json: bool,
    bar: Bar,
) -> None:
    """Mix DRINK ahead: what goes into the bottle, how much water, and what waits for service.

    DRINK is a spec of the bar, the path of a spec file, or pours like '2 oz rye-whiskey'. The water
    is what ice would have melted into it; none where it is shaken or built on ice at service.
    Fresh juice, dairy, egg and bubbles wait, with what to add to each serve.
    """
    from solver.drinks.assess import find_drink
    from solver.quantities import parse
    from solver.tasks.batch import Finish, batch_of, read_size
    from solver.tasks.batch.measured_amounts import read_step
    from solver.tasks.prep.uncooked import with_said_ahead

    if label and (as_json or to_stock or why):
        message = "--label is printed alone: leave out --json, --stock and --why."
        raise click.UsageError(message)
    only_with(label, "--label", "place", "language")
    only_with(to_stock, "--stock", "again")
    target = output_place(place, replace=replace)
    size = read_size(
        bar.measures, serves=serves, make=make, bottle=bottle, bottles=bottles, keg=keg
    )
    bar = with_said_ahead(bar, (*drink, *topped))
    found = batch_of(
        find_drink(drink, topped, bar),
        bar,
        size,
        made=bar.happened(made),
        technique=technique,
        on_ice=Finish(on_ice) if on_ice else None,
        celsius=parse(cold, "temperature", bar.measures) if cold is not None else None,
        water_pct=parse(water, "strength", bar.measures) if water is not None else None,
        step=read_step(step, bar.measures),
    )
    if label:
        _label(found, bar, language, target)
    elif to_stock:
        _stock(found, bar, again=again, why=why, as_json=as_json)
    else:
        _say(found, bar, why=why, as_json=as_json)


def _say(found: Batch, bar: Bar, *, why: bool, as_json: bool) -> None:
    from solver.show.documents.batch import batch_json
    from solver.show.text.batch import batch_text

    show = batch_json if as_json else partial(batch_text, everything=why)
    say(show(found, bar), whole=as_json)


def _label(found: Batch, bar: Bar, language: str | None, place: FilePlace | None) -> None:
    from solver.show.pages.batch_label import batch_label, batch_labels
    from solver.show.pages.label import label_text
    from solver.show.words import words_for

    words = words_for(bar, language)
    if place is None:
        say(label_text(batch_label(found, bar, words)), whole=False)
        return
    write_output(page_bytes(batch_labels(found, bar, words), place.path.suffix.lower()), place)


def _stock(found: Batch, bar: Bar, *, again: bool, why: bool, as_json: bool) -> None:
    from solver.show.documents.batch import batch_json
    from solver.show.text.batch import batch_text
    from solver.tasks.batch.put_into_stock import batch_stocking

    ready = batch_stocking(found, bar, again=again)
    show = batch_json if as_json else partial(batch_text, everything=why)
    stock(ready, bar, show(found, bar, ready), whole=as_json)
