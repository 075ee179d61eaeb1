"""`equipour scale`: a spec for another glass."""

from __future__ import annotations

import sys
from typing import TYPE_CHECKING

import click

from solver.cli.bar_option import bar_option
from solver.cli.complete import complete_glass, complete_pour_set, complete_spec
from solver.cli.exits import ANSWERED, IMPOSSIBLE
from solver.cli.options import json_option, name_option, only_with, time_limit_option
from solver.cli.output import near, note, say

if TYPE_CHECKING:
    from solver.pantry.bar import Bar


@click.command(short_help="A spec for another glass.")
@click.argument("spec", shell_complete=complete_spec)
@name_option(
    "--glass",
    says="The glass, like nick-and-nora, or with its wash line: coupe=150ml.",
    complete=complete_glass,
)
@click.option("--volume", help="Instead of what the glass takes: as much in the glass, like 120ml.")
@name_option("--pour-set", says="What to measure with, like five-ml.", complete=complete_pour_set)
@click.option("--save", "name", help="Write the answer into the bar's specs under this name.")
@click.option("--replace", is_flag=True, help="Let --save write over a spec that is there.")
@time_limit_option
@json_option
@bar_option
def scale(
    spec: str,
    glass: str | None,
    volume: str | None,
    pour_set: str | None,
    name: str | None,
    replace: bool,
    seconds: float,
    as_json: bool,
    bar: Bar,
) -> None:
    """Pour SPEC larger or smaller, so that it stays as strong, sweet and sharp.

    All lines are scaled together and rounded together to what the bar's tools measure. Where the
    bar has measured both glasses, the new one is as full as the old one was.
    """
    from solver.clock import Clock
    from solver.drinks.assess import find_drink
    from solver.pantry.spec_file import write_spec
    from solver.search.milp.cpsat import CpSat
    from solver.show.documents.scaled import scaled_json
    from solver.show.text.scaled import scaled_text
    from solver.tasks.respec.scale import saved
    from solver.tasks.respec.scale import scale as solve
    from solver.tasks.save import place_for

    only_with(name is not None, "--save", "replace")
    if glass is None and volume is None:
        raise click.UsageError("say for what: --glass nick-and-nora, or --volume 120ml.")
    bar = bar.with_pour_set(pour_set) if pour_set else bar
    place = None if name is None else place_for(name, bar, replace=replace)
    drink, clock = find_drink((spec,), (), bar), Clock.of(seconds)
    found = solve(drink, bar, CpSat(), glass=glass, volume=volume, clock=clock)
    say((scaled_json if as_json else scaled_text)(found, bar), whole=as_json)
    if name is not None and place is not None:
        new = saved(found, name)
        if new is None:
            note("nothing was saved, as it would be another drink")
        else:
            write_spec(new, place, bar.root)
            note(f"saved in {near(place.path)}")
    sys.exit(ANSWERED if found.result.held else IMPOSSIBLE)
