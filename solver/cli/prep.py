"""`equipour prep`: what a house ingredient really is, and what it should be."""

from __future__ import annotations

import sys
from datetime import date
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING

import click

from solver.cli.bar_option import held_bar_option
from solver.cli.complete import complete_recipe
from solver.cli.exits import ANSWERED, IMPOSSIBLE, UNSETTLED
from solver.cli.options import json_option, language_option, only_with, time_limit_option
from solver.cli.output import near, note, say, stock
from solver.cli.output_file import output_place, page_bytes, write_output
from solver.cli.picture import picture_options, place_for_picture, write_picture
from solver.cli.values import day

if TYPE_CHECKING:
    from solver.files.atomic import FilePlace
    from solver.pantry.bar import Bar
    from solver.tasks.prep.additions import BatchWish
    from solver.tasks.prep.strength_grid import Grid


@click.command(short_help="What a house ingredient really is.")
@click.argument("recipe", shell_complete=complete_recipe)
@click.option("--make", "amount", help="How much to make, like '1.5 L', '20 serves' or 2x.")
@click.option("--stock", "to_stock", is_flag=True, help="Put it on the shelf, and take off it.")
@click.option("--again", is_flag=True, help="Stock: though one of that day is there.")
@click.option("--made", callback=day, help="The day it was made.")
@click.option("--aim", "aims", multiple=True, help="Bring it to '60 Brix', 'acid 6 g/100ml', ...")
@click.option("--fortify-to-keep", is_flag=True, help="Aim: spirit enough against yeast.")
@click.option("--acids", help="Aim: parts of citric and malic acid, like 2:1.")
@click.option("--spirit", help="Aim: what to fortify with.  [default: vodka]")
@click.option("--step", default="1 g", show_default=True, help="Aim: step of the scale.")
@click.option("--stored", help="Aim: how cold it is kept, like 4 C.")
@click.option("--serve", "served", help="One strength for profiles, like sour,old-fashioned.")
@click.option("--brix", "between", help="Serve: strengths to try, like '40..64 Brix'.")
@click.option("--acid", help="Serve: acid to try too, like '0..2 g/100ml'.")
@click.option("--label", is_flag=True, help="Only its label.")
@click.option("--output", "-o", "sheet", type=click.Path(path_type=Path), metavar="FILE",
              help="Label: a page to print, .html or .pdf.")  # fmt: skip
@language_option
@click.option("--why", is_flag=True, help="Inputs, losses, how each figure is known, chemistry.")
@picture_options
@time_limit_option
@json_option
@held_bar_option("to_stock")
def prep(
    recipe: str,
    amount: str | None,
    to_stock: bool,
    again: bool,
    made: date | None,
    aims: tuple[str, ...],
    fortify_to_keep: bool,
    acids: str | None,
    spirit: str | None,
    step: str,
    stored: str | None,
    served: str | None,
    between: str | None,
    acid: str | None,
    label: bool,
    sheet: Path | None,
    language: str | None,
    why: bool,
    picture: Path | None,
    replace: bool,
    seconds: float,
    as_json: bool,
    bar: Bar,
) -> None:
    """What the house RECIPE makes: yield, sweetness, strength, cost, life, allergens.

    RECIPE is in the bar's folder house. Without measurements the answer is an expected range; with
    a weight, a volume or a Brix of what came out it is what went off as steam, what stayed in the
    strainer, and what is in the bottle.

    With --aim, what to add to the batch; RECIPE may then be any ingredient, a juice or a spirit.
    With --serve, the strength whose worst drink is closest to its aims.
    """
    today = bar.happened(made)
    aimed = bool(aims) or fortify_to_keep
    if to_stock and (aimed or served is not None):
        raise click.UsageError("--stock goes with neither --aim nor --serve: cook it first.")
    if aimed and served is not None:
        raise click.UsageError("--aim and --serve are two questions: ask them one by one.")
    if amount is not None and served is not None:
        raise click.UsageError("--serve finds a strength: leave out --make.")
    only_with(to_stock, "--stock", "again")
    only_with(aimed, "--aim or --fortify-to-keep", "acids", "spirit", "step", "stored")
    only_with(served is not None, "--serve", "between", "acid", "picture")
    only_with(aimed or served is not None, "--serve or --aim", "seconds")
    only_with(not aimed and served is None, "a recipe alone, not with --serve or --aim", "why")
    only_with(label, "--label", "sheet", "language")
    if label and (aimed or served is not None or to_stock or amount or why or as_json):
        raise click.UsageError("--label is printed alone: with --made, --output and --language.")
    if label:
        _label(recipe, bar, made, language, output_place(sheet, replace=replace))
        return
    place = place_for_picture(picture, replace=replace)
    if aimed:
        from solver.tasks.prep.additions import BatchWish

        wish = BatchWish(aims, fortify_to_keep, acids, spirit, step, stored, amount)
        _aim(recipe, wish, seconds, bar, today, as_json=as_json)
    elif served is not None:
        from solver.tasks.prep.strength_grid import read_grid

        grid = read_grid(between, acid, bar)
        _serve(recipe, served, grid, place, seconds, bar, today, as_json=as_json)
    else:
        how = {"to_stock": to_stock, "again": again, "why": why, "as_json": as_json}
        _prepare(recipe, amount, bar, made, **how)


def _label(
    recipe: str, bar: Bar, made: date | None, language: str | None, place: FilePlace | None
) -> None:
    from solver.show.pages.label import label_text, labels_html
    from solver.show.pages.prep_label import prep_label
    from solver.show.words import words_for
    from solver.tasks.prep import find_recipe, prepare

    words = words_for(bar, language)
    found = prep_label(prepare(find_recipe(recipe, bar), bar, bar.today, made), bar, words)
    if place is None:
        say(label_text(found), whole=False)
        return
    page = labels_html([found], str(found.name), words)
    write_output(page_bytes(page, place.path.suffix.lower()), place)


def _prepare(
    recipe: str,
    amount: str | None,
    bar: Bar,
    made: date | None,
    *,
    to_stock: bool,
    again: bool,
    why: bool,
    as_json: bool,
) -> None:
    from solver.show.documents.prep import prep_json
    from solver.show.text.prep import prep_text
    from solver.tasks.prep import find_recipe, prepare
    from solver.tasks.prep.amount_to_make import read_amount
    from solver.tasks.prep.impact_on_specs import impacts_on_specs
    from solver.tasks.prep.put_into_stock import stocking
    from solver.tasks.prep.scale_batch import scaled_recipe

    found = prepare(find_recipe(recipe, bar), bar, bar.today, made)
    impacts = impacts_on_specs(found, bar)
    wanted = None if amount is None else read_amount(amount, found.recipe.key, bar)
    batch = None if wanted is None else scaled_recipe(found, wanted)
    show = prep_json if as_json else partial(prep_text, everything=why)
    if not to_stock:
        say(show(found, bar, impacts, batch), whole=as_json)
        return
    ready = stocking(found, bar, batch, again=again)
    stock(ready, bar, show(found, bar, impacts, batch, ready), whole=as_json)


def _aim(
    recipe: str, wish: BatchWish, seconds: float, bar: Bar, today: date, *, as_json: bool
) -> None:
    from solver.clock import Clock
    from solver.show.documents.prep_additions import aimed_json
    from solver.show.text.prep_additions import aimed_text
    from solver.tasks.prep.additions import aim_at

    found = aim_at(recipe, wish, bar, today, Clock.of(seconds))
    say(aimed_json(found) if as_json else aimed_text(found), whole=as_json)
    sys.exit(ANSWERED if found.met else IMPOSSIBLE)


def _serve(
    recipe: str,
    served: str,
    grid: Grid,
    place: FilePlace | None,
    seconds: float,
    bar: Bar,
    today: date,
    *,
    as_json: bool,
) -> None:
    from solver.clock import Clock
    from solver.search.milp.cpsat import CpSat
    from solver.show.documents.prep_strengths import served_json
    from solver.show.pages.prep_strengths import served_svg
    from solver.show.text.prep_strengths import served_text
    from solver.tasks.prep.best_strength import serve
    from solver.tasks.prep.strength_grid import read_names

    clock = Clock.of(seconds)
    found = serve(recipe, read_names(served), bar, today, CpSat(), grid, clock=clock)
    say(served_json(found) if as_json else served_text(found, bar), whole=as_json)
    if place is not None:
        write_picture(served_svg(found), place)
        note(f"drawn in {near(place.path)}")
    sys.exit(ANSWERED if found.proven else UNSETTLED)
