"""`equipour plan`: what to prepare and to order for the nights that come."""

from __future__ import annotations

import sys
from datetime import date
from pathlib import Path
from typing import TYPE_CHECKING

import click

from solver.cli.bar_option import bar_option
from solver.cli.complete import complete_plan
from solver.cli.exits import ANSWERED, DISPUTED, IMPOSSIBLE, UNSETTLED
from solver.cli.options import json_option, language_option, only_with, time_limit_option
from solver.cli.output import say
from solver.cli.output_file import output_options, output_place, page_bytes, write_output
from solver.cli.progress import Progress
from solver.cli.values import days

if TYPE_CHECKING:
    from solver.files.atomic import FilePlace
    from solver.pantry.bar import Bar
    from solver.pantry.plan_file import Coming
    from solver.show.words import Words
    from solver.tasks.plan.answer import Plan


_NEEDS = {".pdf": "weasyprint", ".xlsx": "openpyxl"}
"""What writes a plan, by how its file ends."""


@click.command(short_help="Prep list and order for the nights to come.")
@click.argument("plan", nargs=-1, metavar="[PLAN | SPEC=SHARE...]", shell_complete=complete_plan)
@click.option("--on", "nights", multiple=True, callback=days, help="A night, like 2026-05-08.")
@click.option("--drinks", help="How many drinks a night has, like 140.")
@click.option("--use-up", "use_up", multiple=True, help="What must be gone, like NAME=2026-05-10.")
@click.option("--spend", help="The most to spend, like <=120.")
@click.option("--no-buying", is_flag=True, help="Only with what is there.")
@click.option("--waste-first", is_flag=True, help="Throw away the least, whatever that costs.")
@click.option("--left", "everything", is_flag=True, help="All that is left in the end, too.")
@click.option("--verify", is_flag=True, help="Ask a second solver, too.")
@output_options("FILE", "To tick off: a page (.html, .pdf) or a workbook (.xlsx).")
@language_option
@time_limit_option
@json_option
@bar_option
def plan(
    plan: tuple[str, ...],
    nights: tuple[date, ...],
    drinks: str | None,
    use_up: tuple[str, ...],
    spend: str | None,
    no_buying: bool,
    waste_first: bool,
    everything: bool,
    verify: bool,
    place: Path | None,
    replace: bool,
    language: str | None,
    seconds: float,
    as_json: bool,
    bar: Bar,
) -> None:
    """What to prepare, pour and order for the nights that come, and what will spoil.

    PLAN is a file of the bar's folder plans, or any that ends in .toml. Without one, say how many
    --drinks there will be, and of which specs: harbour-light=40% is a forecast, rope-store=20..40%
    may be poured as suits the shelf, dry-dock is for the rest; where several drinks share the
    rest, each is between half and twice an equal part of it.

    Of all plans without prep that no drink could use, the one that loses the least, which is what
    is bought and what spoils together, then comes nearest to the shares. With --waste-first, the
    one that throws away the least, then costs the least.
    """
    from solver.night.second_opinion import SecondVerdict
    from solver.search.milp.highs import Highs
    from solver.show.documents.plan import plan_json
    from solver.show.text.plan import plan_text
    from solver.show.words import words_for
    from solver.tasks.plan.answer import Plan, Refusal
    from solver.tasks.plan.plan import plan as solve

    if no_buying and spend is not None:
        raise click.UsageError("--no-buying and --spend are two answers to one question.")
    only_with(place is not None, "--output", "language")
    words = words_for(bar, language)
    coming = _coming(plan, nights, drinks, use_up, "0" if no_buying else spend, bar)
    target = _target(place, replace=replace)
    second = Highs() if verify else None
    with Progress(quiet=as_json) as progress:
        clock = progress.clock(seconds)
        found = solve(coming, bar, clock, second=second, waste_first=waste_first)
    answer = plan_json(found, bar) if as_json else plan_text(found, bar, everything=everything)
    say(answer, whole=as_json)
    if target is not None and isinstance(found, Plan):
        write_output(_to_tick_off(found, bar, words, target.path.suffix.lower()), target)
    match found:
        case Plan() | Refusal() if found.second and found.second.verdict is SecondVerdict.DISAGREES:
            sys.exit(DISPUTED)
        case Plan() | Refusal() if found.second and found.second.verdict is SecondVerdict.OPEN:
            sys.exit(UNSETTLED)
        case Plan(proven=True):
            sys.exit(ANSWERED)
        case Refusal():
            sys.exit(IMPOSSIBLE)
        case _:
            sys.exit(UNSETTLED)


def _coming(
    words: tuple[str, ...],
    nights: tuple[date, ...],
    drinks: str | None,
    use_up: tuple[str, ...],
    spend: str | None,
    bar: Bar,
) -> Coming:
    """What is coming, by a file or by options; what options say of both goes before the file."""
    from dataclasses import replace

    from solver.pantry.plan_file import find_plan, read_coming, read_spend, read_use_up

    if drinks is not None:
        coming = _asked(words, nights or (bar.today,), drinks)
    elif nights or len(words) != 1 or "=" in words[0]:
        raise click.UsageError("name a PLAN of the bar, or say how many --drinks there will be.")
    else:
        coming = read_coming(find_plan(words[0], bar), bar)
    gone = dict(read_use_up(text) for text in use_up)
    most = coming.spend if spend is None else read_spend(spend, bar)
    return replace(coming, use_up={**coming.use_up, **gone}, spend=most)


def _asked(words: tuple[str, ...], nights: tuple[date, ...], drinks: str) -> Coming:
    from solver.errors import BadInput
    from solver.pantry.plan_file import Coming, PlanShare, read_drinks, read_share

    count = read_drinks(drinks)
    shares: dict[str, PlanShare | None] = {}
    for word in words:
        name, _, share = (part.strip() for part in word.partition("="))
        if not name or name in shares:
            what = f"'{word}' names no drink" if not name else f"{name} is named twice"
            raise BadInput(what, remedy="Write it like harbour-light=40%.")
        shares[name] = read_share(share)
    return Coming(tuple((day, count) for day in dict.fromkeys(nights)), shares)


def _target(place: Path | None, *, replace: bool) -> FilePlace | None:
    """Where the page or the workbook goes; what it takes to write it is there."""
    from importlib.util import find_spec

    suffix = "" if place is None else place.suffix.lower()
    if place is not None and suffix not in (".html", *_NEEDS):
        what = "a plan is a page or a workbook: call it FILE.html, FILE.pdf or FILE.xlsx."
        raise click.UsageError(what)
    library = _NEEDS.get(suffix)
    if library is not None and find_spec(library) is None:
        what = f"a {suffix} needs {library}, which is not installed: `pip install {library}`."
        raise click.UsageError(what)
    return output_place(place, replace=replace)


def _to_tick_off(found: Plan, bar: Bar, words: Words, suffix: str) -> bytes:
    if suffix == ".xlsx":
        from solver.show.pages.plan.workbook import plan_workbook

        return plan_workbook(found, bar, words)
    from solver.show.pages.plan.page import plan_page

    return page_bytes(plan_page(found, bar, words), suffix)
