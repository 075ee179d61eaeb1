"""`equipour stock`: what comes in, goes out, is sold and is there; and the log of it."""

from __future__ import annotations

from datetime import date
from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from solver.cli.bar_option import bar_option, tell_misread, writing_bar_option
from solver.cli.complete import complete_ingredient
from solver.cli.options import Command, json_option
from solver.cli.output import near, note, say
from solver.cli.values import WholeNumber, day

if TYPE_CHECKING:
    from solver.pantry.bar import Bar
    from solver.tasks.stock.movement import Movement


@click.group(short_help="What comes in, goes out, is sold; the log of it, and undo.")
def stock() -> None:
    """What comes in, goes out, is sold and is there; every change stands in stock-log.csv.

    \b
    equipour stock in rye-whiskey 2 bottles --price 31
    equipour stock out lime-juice 300 ml --because spilled
    equipour stock count rye-whiskey 0.7 bottles
    equipour stock sold sales.csv
    """


_ingredient = click.argument("ingredient", shell_complete=complete_ingredient)
_amount = click.argument("amount", nargs=-1)
_on = click.option("--on", "on", callback=day, metavar="DAY", help="The day it is counted for.")
_because = click.option("--because", "why", default="", metavar="TEXT", help="Why, for the log.")


def _counting(command: Command) -> Command:
    """What every command that counts one ingredient takes."""
    for option in (writing_bar_option, json_option, _because, _on):
        command = option(command)
    return command


@stock.command("in")
@_ingredient
@_amount
@click.option("--price", help="Of a bottle or piece, from now on.")
@click.option("--bottle", metavar="SIZE", help="Of something new on the shelf, like '700 ml'.")
@_counting
def come_in(
    ingredient: str, amount: tuple[str, ...], on: date | None, as_json: bool, bar: Bar, **more: Any
) -> None:
    """Something came in: AMOUNT like 2 bottles, 300 ml, 1 kg or 12 pieces."""
    from solver.tasks.stock.counting import came_in

    _move(came_in(ingredient, " ".join(amount), bar, on or bar.today, **more), bar, as_json=as_json)


@stock.command("out")
@_ingredient
@_amount
@_counting
def go_out(
    ingredient: str, amount: tuple[str, ...], on: date | None, why: str, as_json: bool, bar: Bar
) -> None:
    """Something went out otherwise than sold."""
    from solver.tasks.stock.counting import went_out

    _move(went_out(ingredient, " ".join(amount), bar, on or bar.today, why), bar, as_json=as_json)


@stock.command("count")
@_ingredient
@_amount
@_counting
def count(
    ingredient: str, amount: tuple[str, ...], on: date | None, why: str, as_json: bool, bar: Bar
) -> None:
    """So much is there, whatever the shelf says."""
    from solver.tasks.stock.counting import counted

    _move(counted(ingredient, " ".join(amount), bar, on or bar.today, why), bar, as_json=as_json)


@stock.command("open")
@_ingredient
@_counting
def open_bottle(ingredient: str, on: date | None, why: str, as_json: bool, bar: Bar) -> None:
    """A bottle was opened: its days of life begin."""
    from solver.tasks.stock.counting import opened

    _move(opened(ingredient, bar, on or bar.today, why), bar, as_json=as_json)


@stock.command("sold")
@click.argument("file", type=click.Path(path_type=Path))
@click.option("--as", "named", multiple=True, metavar="NAME=SPEC", help="What the till calls it.")
@click.option("--skip", "skipped", multiple=True, metavar="NAME", help="Leave a name out.")
@click.option("--column", "columns", multiple=True, metavar="WHAT=HEADING",
              help="Which column says it: drink, sold, date.")  # fmt: skip
@click.option("--run-out", is_flag=True, help="Write 0 where more was poured than was there.")
@click.option("--again", is_flag=True, help="Though this file was taken off before.")
@click.option("--dry-run", is_flag=True, help="Write nothing; say what would be.")
@_on
@json_option
@writing_bar_option
def sell(
    file: Path,
    columns: tuple[str, ...],
    dry_run: bool,
    on: date | None,
    as_json: bool,
    bar: Bar,
    **how: Any,
) -> None:
    """Drinks were sold: FILE is a CSV or workbook of names and numbers, as a till exports it.

    What they pour is taken from the shelf, what is known of their garnish too.
    """
    from solver.show.documents.sold import sold_json
    from solver.show.text.sold import sold_text
    from solver.tasks.stock.sales import sold
    from solver.tasks.stock.sales_file import read_sales

    tell_misread(bar.book.misread)
    found = sold(read_sales(file, columns), bar, on, **how)
    text = sold_json(found) if as_json else sold_text(found, written=not dry_run)
    if found.movement is None or dry_run:
        say(text, whole=as_json)
    else:
        _write(found.movement, bar, text, whole=as_json)


@stock.command("undo")
@click.argument("entry", type=WholeNumber(1), nargs=-1, metavar="[ENTRY]...")
@_counting
def undo(entry: tuple[int, ...], on: date | None, why: str, as_json: bool, bar: Bar) -> None:
    """Take an ENTRY of the log back, or the last one that stands; of several the newest first."""
    from solver.errors import BadInput
    from solver.show.documents.stock import movement_json
    from solver.show.text.stock import movement_text
    from solver.tasks.stock.undo import all_undone, as_one

    if as_json and len(entry) > 1:
        raise BadInput("a document tells of one entry", remedy="Undo one at a time with --json.")
    found = all_undone(entry, bar, on or bar.today, why)
    texts = (movement_json(each) if as_json else movement_text(each, bar) for each in found)
    _write(as_one(found), bar, "\n".join(texts), whole=as_json)


@stock.command("log")
@click.argument("entry", type=WholeNumber(1), required=False)
@click.option("--last", type=WholeNumber(1), default=20, show_default=True, help="How many.")
@json_option
@bar_option
def show_log(entry: int | None, last: int, as_json: bool, bar: Bar) -> None:
    """What moved; of one ENTRY, every change."""
    from solver.errors import BadInput
    from solver.show.documents.stock import log_json
    from solver.show.text.stock import entry_text, log_text
    from solver.tasks.stock.movement import log_of

    log = log_of(bar)
    one = None if entry is None else log.entry(entry)
    if entry is not None and one is None:
        raise BadInput(f"the log has no entry {entry}", remedy="See `equipour stock log`.")
    if as_json:
        say(log_json(log, [one] if one else log.entries[-last:]), whole=True)
    else:
        say(entry_text(one, log) if one else log_text(log, last), whole=True)


@stock.command("past")
@click.option("--within", "days", type=WholeNumber(0, 3650), default=3, show_default=True,
              metavar="DAYS", help="And what will be.")  # fmt: skip
@json_option
@bar_option
def past(days: int, as_json: bool, bar: Bar) -> None:
    """What is past its last day, and what soon will be."""
    from solver.show.documents.past_their_day import past_json
    from solver.show.text.past_their_day import past_text

    say(past_json(bar, days) if as_json else past_text(bar, days), whole=True)


def _move(found: Movement, bar: Bar, *, as_json: bool) -> None:
    from solver.show.documents.stock import movement_json
    from solver.show.text.stock import movement_text

    text = movement_json(found) if as_json else movement_text(found, bar)
    _write(found, bar, text, whole=as_json)


def _write(found: Movement, bar: Bar, text: str, *, whole: bool) -> None:
    """Say what moves, and write shelf and log together."""
    with found.prepared(bar) as put:
        say(text, whole=whole)
        put()
    note(f"written: {near(found.before.sheet.path)}, {near(found.log.path)}")
