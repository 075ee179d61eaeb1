"""`equipour swap`: another bottle in a drink that stays as strong, sweet, sharp and large."""

from __future__ import annotations

import sys
from typing import TYPE_CHECKING

import click

from solver.cli.bar_option import bar_option
from solver.cli.complete import (
    complete_avoidable,
    complete_ingredient,
    complete_pour_set,
    complete_spec,
)
from solver.cli.exits import ANSWERED, IMPOSSIBLE, UNSETTLED
from solver.cli.options import (
    NOT_PROVEN,
    json_option,
    name_option,
    only_with,
    time_limit_option,
    unproven_option,
)
from solver.cli.output import near, note, say
from solver.cli.progress import Progress

if TYPE_CHECKING:
    from solver.files.atomic import FilePlace
    from solver.pantry.bar import Bar
    from solver.tasks.respec.substitutes import Swap


@click.command(short_help="Another bottle in a spec.")
@click.argument("spec", shell_complete=complete_spec)
@click.argument("out", shell_complete=complete_ingredient)
@click.argument("instead", metavar="[IN]", required=False, shell_complete=complete_ingredient)
@click.option(
    "--split",
    "among",
    help="Pour several together, as evenly as can be, like 'rye-whiskey + apple-brandy', or with a "
    "share, like '2/3 rye-whiskey + apple-brandy'.",
)
@click.option(
    "--cost", help="With --split: the most it may cost, like '<=2.60' or '12% below now'."
)
@click.option(
    "--without",
    "unwanted",
    multiple=True,
    shell_complete=complete_avoidable,
    help="What may not be in the drink: an ingredient, a kind, what a guest avoids.",
)
@name_option("--pour-set", says="What to measure with, like five-ml.", complete=complete_pour_set)
@click.option("--save", "name", help="Write the answer into the bar's specs under this name.")
@click.option("--replace", is_flag=True, help="Let --save write over a spec that is there.")
@unproven_option
@time_limit_option
@json_option
@bar_option
def swap(
    spec: str,
    out: str,
    instead: str | None,
    among: str | None,
    cost: str | None,
    unwanted: tuple[str, ...],
    pour_set: str | None,
    name: str | None,
    replace: bool,
    unproven: bool,
    seconds: float,
    as_json: bool,
    bar: Bar,
) -> None:
    """Pour SPEC with IN instead of OUT, and the rest so that it stays what it was.

    In strength, sugar, acid and volume, within one noticeable difference of what was approved and
    with as few changed pours as can be; taste is not compared. Without IN: with the best of what
    the shelf has in its place.
    """
    from solver.drinks.assess import find_drink
    from solver.search.milp.cpsat import CpSat
    from solver.show.documents.swapped import swap_json
    from solver.show.text.swapped import swap_text
    from solver.tasks.respec.swap import split
    from solver.tasks.respec.swap import swap as solve
    from solver.tasks.save import place_for

    only_with(name is not None, "--save", "replace", "unproven")
    only_with(among is not None, "--split", "cost")
    if among is not None and instead is not None:
        raise click.UsageError("--split says what is poured instead: leave out IN.")
    bar = bar.with_pour_set(pour_set) if pour_set else bar
    place = None if name is None else place_for(name, bar, replace=replace)
    drink = find_drink((spec,), (), bar)
    with Progress("stand-ins", quiet=as_json) as progress:
        clock = progress.clock(seconds)
        if among is not None:
            swaps = split(
                drink, bar, out, among, CpSat(), clock=clock, unwanted=unwanted, cost=cost
            )
        else:
            swaps = solve(drink, bar, out, instead, CpSat(), clock=clock, unwanted=unwanted)
    text = swap_json(swaps, bar) if as_json else swap_text(swaps, bar.bottles.find(out).name, bar)
    say(text, whole=as_json)
    best = swaps.best
    held = best is not None and best.result.held and (swaps.cost is None or swaps.cost.kept)
    if name is not None and place is not None and swaps.untried and not unproven:
        note(f"nothing was saved, as it is not proven the best: {NOT_PROVEN}")
    elif name is not None and place is not None:
        _save(best if held else None, name, place, bar)
    sys.exit(UNSETTLED if swaps.untried else ANSWERED if held else IMPOSSIBLE)


def _save(found: Swap | None, name: str, place: FilePlace, bar: Bar) -> None:
    """Write the new spec and say where, or say why not, on standard error."""
    from solver.pantry.spec_file import write_spec

    if found is None or found.result.after is None:
        note("nothing was saved, as it would be another drink, or cost more than asked")
        return
    spec = found.result.after.spec
    own = spec.origin == place.path
    tasted = spec.tasted if own else ()  # nobody has tasted the new drink
    named = {"name": " ".join(name.split()), "tasted": tasted}
    write_spec(spec.model_copy(update=named), place, bar.root)
    note(f"saved in {near(place.path)}")
