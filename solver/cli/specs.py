"""`equipour specs`: the bar's book."""

from __future__ import annotations

import sys
from typing import TYPE_CHECKING

import click

from solver.cli.bar_option import bar_option
from solver.cli.exits import ANSWERED, MISTAKEN
from solver.cli.options import table_options
from solver.cli.output import say, say_table
from solver.cli.values import Column

if TYPE_CHECKING:
    from solver.pantry.bar import Bar


@click.command()
@click.option("--by", type=Column(), metavar="COLUMN", help="Sort by it: name, cost, abv, ...")
@table_options
@bar_option
def specs(by: str | None, as_json: bool, as_csv: bool, bar: Bar) -> None:
    """The bar's specs: what each is in the glass, for a guest, and against its profile.

    A spec with a mistake in its file is listed with it; the exit code is then 2.
    """
    from solver.show.documents.specs import specs_json
    from solver.show.text.specs import specs_csv, specs_text
    from solver.tasks.assess_all import assess_all, sorted_by

    book = assess_all(bar)
    found = sorted_by(book.specs, by) if by else book.specs
    if as_csv:
        say_table(specs_csv(found, book.misread, bar))
    elif as_json:
        say(specs_json("specs", found, book.misread, bar), whole=True)
    else:
        say(specs_text(found, book.misread, bar), whole=True)
    sys.exit(MISTAKEN if book.misread else ANSWERED)
