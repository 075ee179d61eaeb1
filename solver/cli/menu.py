"""`equipour menu`: which drinks to offer, so that what is dated is poured in time."""

from __future__ import annotations

import sys
from datetime import date
from typing import TYPE_CHECKING

import click

from solver.cli.bar_option import bar_option, tell_misread
from solver.cli.complete import complete_plan
from solver.cli.exits import ANSWERED, IMPOSSIBLE, UNSETTLED
from solver.cli.options import NOT_PROVEN, only_with, table_options, time_limit, unproven_option
from solver.cli.output import near, note, say, say_table
from solver.cli.progress import Progress
from solver.cli.values import WholeNumber, days
from solver.cli.values import day as read_day

if TYPE_CHECKING:
    from solver.pantry.bar import Bar
    from solver.tasks.menu.answer import MenuAnswer

SECONDS = 20.0
"""A menu is asked for while somebody waits, and is seldom proven to the last."""


@click.command(short_help="Which drinks to offer, so that the least is lost.")
@click.argument("plan", nargs=-1, metavar="[PLAN | SPEC[=SHARE]...]", shell_complete=complete_plan)
@click.option("--forecast", metavar="N", type=WholeNumber(1), help="How many drinks in all.")
@click.option("--on", "nights", multiple=True, callback=days, help="A night, like 2026-05-08.")
@click.option("--until", callback=read_day, help="Every night from today to that day.")
@click.option("--of", "shown", multiple=True, help="What to make new drinks of.")
@click.option("--use-up", "use_up", multiple=True, help="What must be gone: NAME or NAME=DATE.")
@click.option("--most", metavar="N", type=WholeNumber(1, 40), default=6, show_default=True,
              help="Drinks on the menu at most.")  # fmt: skip
@click.option("--share", default="10..40%", show_default=True, help="Of a night, what one may be.")
@click.option(
    "--sober",
    default="20%",
    show_default=True,
    help="Of a night, at most what has hardly any alcohol, or none.",
)
@click.option("--price", help="What every drink is sold at.")
@click.option("--margin", help="What each keeps of its price before tax, like 78%.")
@click.option("--tax", help="The tax, like 19%: in the price, or on top where that is usual.")
@click.option("--for", "guests", multiple=True, help="A guest who finds a drink: no alcohol, nuts.")
@click.option("--spend", help="The most to spend, like <=120.")
@click.option("--no-buying", is_flag=True, help="Only with what is there.")
@click.option("--waste-first", is_flag=True, help="Throw away the least, whatever that costs.")
@click.option("--book", "book_only", is_flag=True, help="Only drinks of the spec book.")
@click.option("--save", is_flag=True, help="Write what is new into the bar's specs.")
@unproven_option
@click.option("--why", is_flag=True, help="Say what would be better without each demand.")
@time_limit(SECONDS)
@table_options
@bar_option
def menu(
    plan: tuple[str, ...],
    forecast: int | None,
    nights: tuple[date, ...],
    until: date | None,
    shown: tuple[str, ...],
    use_up: tuple[str, ...],
    most: int,
    share: str,
    sober: str,
    price: str | None,
    margin: str | None,
    tax: str | None,
    guests: tuple[str, ...],
    spend: str | None,
    no_buying: bool,
    waste_first: bool,
    book_only: bool,
    save: bool,
    unproven: bool,
    why: bool,
    seconds: float,
    as_json: bool,
    as_csv: bool,
    bar: Bar,
) -> None:
    """Which drinks to offer, how many of each, and on which nights.

    From the spec book, and new ones of what is dated: of all such menus the one that loses the
    least, which is what is bought and what spoils together, then pours for the least, then has the
    most sorts and changes least. With --waste-first, the one that throws away the least, then costs
    the least. A SPEC is on it whatever else is. Nights are those of a PLAN, of --on, or every one
    --until a day, with as many drinks each as --forecast divides into.
    """
    from solver.tasks.menu.menu import menu as choose
    from solver.tasks.menu.read_menu import WrittenMenu, read_menu
    from solver.tasks.price.price_book import costed_for

    if no_buying and spend is not None:
        raise click.UsageError("--no-buying and --spend are two answers to one question.")
    if book_only and (shown or save):
        raise click.UsageError("--book wants no new drinks: leave out --of and --save.")
    only_with(save, "--save", "unproven")
    bar = costed_for(bar, margin, None, tax)
    written = WrittenMenu(
        plan, forecast, nights, until, shown, use_up, most, share, sober, price, guests,
        "0" if no_buying else spend, not book_only, margin is not None,
    )  # fmt: skip
    wish = read_menu(written, bar)
    if save:
        from solver.tasks.save import check_saving

        check_saving(bar)
    tell_misread(bar.book.misread)
    with Progress("new drinks", quiet=as_json) as progress:
        clock = progress.clock(seconds)
        found = choose(wish, bar, clock, why=why, waste_first=waste_first)
    _show(found, bar, why=why, as_json=as_json, as_csv=as_csv)
    if save:
        _save(found, bar, unproven=unproven)
    sys.exit(_code(found))


def _show(found: MenuAnswer, bar: Bar, *, why: bool, as_json: bool, as_csv: bool) -> None:
    from solver.show.documents.menu import menu_json
    from solver.show.text.menu import menu_csv, menu_text
    from solver.tasks.menu.answer import Menu

    if as_csv and isinstance(found, Menu):
        say_table(menu_csv(found, bar))
    elif as_json:
        say(menu_json(found, bar), whole=True)
    else:
        say(menu_text(found, bar, everything=why), whole=False)


def _save(found: MenuAnswer, bar: Bar, *, unproven: bool) -> None:
    """Write what is new on the menu and say where, or say why not, on standard error."""
    from solver.pantry.spec_file import write_specs
    from solver.tasks.menu.answer import Menu
    from solver.tasks.save import place_for

    if not isinstance(found, Menu) or not found.new:
        note("nothing was saved, as nothing on it is new")
        return
    if not found.plan.proven and not unproven:
        note(f"nothing was saved, as it is not proven best: {NOT_PROVEN}")
        return
    specs = [offer.drink.spec for offer in found.new]
    placed = [(spec, place_for(spec.name, bar, replace=False)) for spec in specs]
    if bar.root is not None:
        write_specs(placed, bar.root)
    for _, place in placed:
        note(f"saved in {near(place.path)}")


def _code(found: MenuAnswer) -> int:
    from solver.tasks.menu.answer import Menu
    from solver.tasks.plan.answer import Refusal

    if isinstance(found, Menu):
        return ANSWERED if found.plan.proven else UNSETTLED
    proven = isinstance(found.found, Refusal) and not found.cut
    return IMPOSSIBLE if proven else UNSETTLED
