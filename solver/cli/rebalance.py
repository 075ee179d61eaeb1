"""`equipour rebalance`: the whole spec book after a change."""

from __future__ import annotations

import sys
from typing import TYPE_CHECKING

import click

from solver.cli.bar_option import bar_option
from solver.cli.complete import complete_glass, complete_ingredient, complete_pour_set
from solver.cli.exits import ANSWERED, IMPOSSIBLE, UNSETTLED
from solver.cli.options import NOT_PROVEN, name_option, only_with, table_options, time_limit_option
from solver.cli.output import near, note, say, say_table
from solver.cli.progress import Progress

if TYPE_CHECKING:
    from solver.pantry.bar import Bar
    from solver.tasks.respec.book import Book


@click.command(short_help="The whole spec book after a change.")
@click.option(
    "--set",
    "figures",
    multiple=True,
    shell_complete=complete_ingredient,
    help="Another bottle: rye-whiskey.abv=45%, lime-juice.acid=5.1g/100ml.",
)
@click.option(
    "--out-of",
    "gone",
    multiple=True,
    shell_complete=complete_ingredient,
    help="An ingredient that there is no more of.",
)
@click.option(
    "--glass",
    "glasses",
    multiple=True,
    shell_complete=complete_glass,
    help="Another glass, to its wash line: coupe=150ml.",
)
@name_option("--pour-set", says="What to measure with, like five-ml.", complete=complete_pour_set)
@click.option("--apply", "write", is_flag=True, help="Write the re-balanced specs: all, or none.")
@click.option(
    "--unproven", is_flag=True, help="Let --apply write what is known, though some specs are not."
)
@time_limit_option
@table_options
@bar_option
def rebalance(
    figures: tuple[str, ...],
    gone: tuple[str, ...],
    glasses: tuple[str, ...],
    pour_set: str | None,
    write: bool,
    unproven: bool,
    seconds: float,
    as_json: bool,
    as_csv: bool,
    bar: Bar,
) -> None:
    """Every spec of the bar after a change, kept in strength, sugar, acid and volume.

    Without options: whatever differs between the shelf and what was approved.
    """
    from solver.search.milp.cpsat import CpSat
    from solver.show.documents.rebalanced_book import book_json
    from solver.show.text.rebalanced_book import book_csv, book_text
    from solver.tasks.respec.bar_changes import read_changes
    from solver.tasks.respec.book import State, rebalance_book
    from solver.tasks.respec.outdated_recipes import unstocked

    only_with(write, "--apply", "unproven")
    bar = bar.with_pour_set(pour_set) if pour_set else bar
    changes = read_changes(figures, gone, glasses, bar)
    with Progress("specs", quiet=as_json) as progress:
        book = rebalance_book(bar, changes, CpSat(), progress.clock(seconds))
    edited = unstocked(bar, bar.today)
    if as_csv:
        say_table(book_csv(book, bar))
    else:
        shown = book_json if as_json else book_text
        say(shown(book, bar, edited), whole=as_json)
    unknown = book.of(State.UNDECIDED)
    if write and unknown and not unproven:
        note(f"nothing was written, as {len(unknown)} of the specs are not known: {NOT_PROVEN}")
    elif write:
        _apply(book, bar, figures, glasses)
    other = any(book.of(each) for each in (State.LOST, State.NEARLY, State.BY_HAND))
    sys.exit(UNSETTLED if unknown else IMPOSSIBLE if other else ANSWERED)


def _apply(book: Book, bar: Bar, figures: tuple[str, ...], glasses: tuple[str, ...]) -> None:
    """Write the specs and say which, and what is left to write by hand, on standard error."""
    from solver.tasks.respec.book import apply

    written = apply(book, bar)
    for path in written:
        note(f"written: {near(path)}")
    if not written:
        note("nothing was written, as no spec was re-balanced")
    for text in figures:
        note(f"shelf.csv was left as it is: write {text.rpartition('.')[2]} into its overrides")
    for text in glasses:
        note(f"bar.toml was left as it is: write the wash line of {text} into it")
