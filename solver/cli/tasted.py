"""`equipour tasted`: what the bar thinks of its drinks."""

from __future__ import annotations

from typing import TYPE_CHECKING

import click

from solver.cli.bar_option import held_bar_option
from solver.cli.complete import complete_spec
from solver.cli.options import json_option
from solver.cli.output import near, note, say
from solver.cli.values import WholeNumber

if TYPE_CHECKING:
    from solver.pantry.bar import Bar
    from solver.pantry.spec import Spec


@click.command(short_help="What the bar thinks of a drink.")
@click.argument("spec", required=False, shell_complete=complete_spec)
@click.argument("words", required=False)
@click.option(
    "--score",
    metavar="1..5",
    type=WholeNumber(1, 5),
    help="From 1, never again, to 5.",
)
@click.option("--take-back", is_flag=True, help="Forget the tasting that was noted last.")
@json_option
@held_bar_option("score", "take_back")
def tasted(
    spec: str | None,
    words: str | None,
    score: int | None,
    take_back: bool,
    as_json: bool,
    bar: Bar,
) -> None:
    """What the bar thinks of SPEC, or of all its specs; with --score, note a tasting in WORDS.

    Tastings are kept in the spec's file. They count for what is in keeping with what: designs of
    this bar pour sooner together what was liked together, and later what was not.
    """
    from solver.pantry.spec import find_spec, read_specs
    from solver.show.documents.tasted import tasted_json
    from solver.show.text.tasted import tasted_text
    from solver.tasks.note_tasting import noted, taken_back

    _check(spec, words, score, take_back=take_back)
    found = read_specs(bar.specs) if spec is None else (find_spec(spec, bar.specs),)
    done = ""
    if score is not None:
        found, done = (noted(found[0], score, words, bar),), "noted in"
    elif take_back:
        new, last = taken_back(found[0])
        found, done = (new,), f"the tasting of {last.date} was taken out of"
    say(tasted_json(found) if as_json else tasted_text(found), whole=as_json)
    if done:
        _write(found[0], bar, done)


def _check(spec: str | None, words: str | None, score: int | None, *, take_back: bool) -> None:
    if spec is None and (take_back or score is not None):
        raise click.UsageError("Name the spec that was tasted, like: equipour tasted slow-tide.")
    if words is not None and score is None:
        raise click.UsageError("What is said of a drink goes with --score.")
    if take_back and score is not None:
        raise click.UsageError("--take-back does not go with --score.")


def _write(spec: Spec, bar: Bar, done: str) -> None:
    """Write a spec into its file, and say so on standard error."""
    from solver.pantry.spec_file import write_spec

    if spec.place is not None:
        write_spec(spec, spec.place, bar.root)
        note(f"{done} {near(spec.place.path)}")
