"""`equipour card`: a drink on a page, to hand over, pin up or publish."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

import click

from solver.cli.bar_option import bar_option
from solver.cli.complete import complete_spec
from solver.cli.options import language_option
from solver.cli.output import say
from solver.cli.output_file import output_options, output_place, write_output

if TYPE_CHECKING:
    from solver.pantry.bar import Bar
    from solver.pantry.spec import Spec

FORMS = ("txt", "html", "svg", "pdf")


@click.command(short_help="A drink on a page, to hand over.")
@click.argument("specs", nargs=-1, metavar="[SPEC]...", shell_complete=complete_spec)
@click.option("--book", is_flag=True, help="Every spec of the bar, with a table of contents.")
@click.option("--as", "form", type=click.Choice(FORMS), help="By default as --output ends, or txt.")
@click.option(
    "--for",
    "reader",
    type=click.Choice(["bar", "guest", "reader"]),
    default="bar",
    show_default=True,
    help="A guest sees no recipe of the house and no cost, a reader no cost.",
)
@click.option(
    "--size",
    type=click.Choice(["page", "index", "phone"]),
    default="page",
    show_default=True,
    help="Half a letter page (A5), an index card of 8 by 5 inches, a phone.",
)
@language_option
@output_options("FILE", "The file to write.")
@bar_option
def card(
    specs: tuple[str, ...],
    book: bool,
    form: str | None,
    reader: str,
    size: str,
    language: str | None,
    place: Path | None,
    replace: bool,
    bar: Bar,
) -> None:
    """Cards of one SPEC or several: what is poured, how it is made, what it is in the glass."""
    from solver.drinks.card import Reader
    from solver.show.pages.card.made import cards_as
    from solver.show.words import words_for

    form = form or _form_of(place)
    chosen = _chosen(specs, book=book, bar=bar)
    if form == "svg" and len(chosen) > 1:
        raise click.UsageError("an SVG holds one card: name one SPEC, or ask for html or pdf.")
    if form == "pdf" and place is None:
        raise click.UsageError("a PDF goes into a file: add --output card.pdf.")
    words = words_for(bar, language)
    target = output_place(place, replace=replace)
    made = cards_as(form, chosen, bar, Reader(reader), words, bar.today, size=size, book=book)
    if target is None:
        say(made.decode().removesuffix("\n"), whole=form != "txt")
        return
    write_output(made, target)


def _form_of(place: Path | None) -> str:
    """What a file is by its ending; text where there is none."""
    ending = place.suffix.lower().lstrip(".") if place else "txt"
    if ending not in FORMS:
        raise click.UsageError(f"say what {place} is to be: --as {', '.join(FORMS)}.")
    return ending


def _chosen(specs: tuple[str, ...], *, book: bool, bar: Bar) -> tuple[Spec, ...]:
    """The specs that are named, or all of them."""
    from solver.drinks.assess import find_drink
    from solver.errors import BadInput
    from solver.pantry.spec import read_specs

    if book == bool(specs):
        raise click.UsageError("name a SPEC, or ask for all of them with --book.")
    if not book:
        return tuple(find_drink((name,), (), bar) for name in specs)
    found = read_specs(bar.specs)
    if not found:
        remedy = "Save one with `equipour design ... --save NAME`."
        raise BadInput("there is no spec in this bar", remedy=remedy)
    return found
