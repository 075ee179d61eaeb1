"""`equipour recipe`: a house recipe without a file written by hand, and what was weighed of one."""

from __future__ import annotations

from datetime import date
from typing import TYPE_CHECKING

import click

from solver.cli import terminal
from solver.cli.bar_option import bar_option
from solver.cli.complete import complete_character, complete_kind, complete_recipe
from solver.cli.options import Command, json_option
from solver.cli.output import near, note, say
from solver.cli.values import day
from solver.errors import BadInput

if TYPE_CHECKING:
    from solver.pantry.bar import Bar
    from solver.tasks.prep.write_recipe import WrittenRecipe

_MEASURED = (
    click.option("--weight", metavar="AMOUNT", help="What came out, weighed, like '1.35 kg'."),
    click.option("--volume", metavar="AMOUNT", help="What came out, in a measuring jug."),
    click.option("--volume-at", metavar="DEGREES", help="How warm it was then, like '22 C'."),
    click.option("--brix", metavar="BRIX", help="What a refractometer says, like 52."),
    click.option("--brix-at", metavar="DEGREES", help="How warm it was then, like '22 C'."),
)


def _measured_options(command: Command) -> Command:
    for option in reversed(_MEASURED):
        command = option(command)
    return command


@click.command(short_help="A house recipe of your own, or what was weighed of one.")
@click.argument("name", required=False, shell_complete=complete_recipe)
@click.argument("lines", nargs=-1, metavar="[LINE]...")
@click.option(
    "--kind", shell_complete=complete_kind, help="What sort of thing it is, like syrup/spice."
)
@click.option(
    "--character",
    multiple=True,
    shell_complete=complete_character,
    help="What it tastes of, like ginger; can be given again.",
)
@_measured_options
@click.option("--made", callback=day, help="The day it was made.")
@click.option("--replace", is_flag=True, help="Another recipe for what is there already.")
@click.option("--dry-run", is_flag=True, help="Write nothing; say what would be.")
@json_option
@bar_option
def recipe(
    name: str | None,
    lines: tuple[str, ...],
    kind: str | None,
    character: tuple[str, ...],
    made: date | None,
    replace: bool,
    dry_run: bool,
    as_json: bool,
    bar: Bar,
    **measured: str | None,
) -> None:
    """Write the house recipe NAME, which a LINE each says: what goes in, and what is done.

    \b
    equipour recipe "honey ginger syrup" "1 L water" "800 g honey" \\
      "120 g ginger" "simmer 20 min" "strain cloth"
    equipour recipe honey-ginger-syrup --weight "1.35 kg" --brix 52

    Amounts are as anybody says them: "3 sticks cinnamon", "2 cups sugar", "a pinch of salt", "3
    limes". What is done: simmer, steep, strain (sieve, cloth or paper), fine-filter, cool, add
    and fortify, in their order. Without a LINE, --weight and the like note what came out of a
    recipe that is there; on a terminal, what is not said is asked.
    """
    from solver.tasks.prep.recipe_lines import read_lines
    from solver.tasks.prep.write_recipe import SaidOfRecipe, note_measured, write_recipe

    told = {option: text for option, text in measured.items() if text is not None}
    asking = not lines and not told and not as_json and terminal.is_there()
    if asking and (name is None or replace or bar.recipe(name) is None):
        from solver.cli.recipe_asked import asked_recipe

        said = asked_recipe(name, bar, replacing=replace)
        said = SaidOfRecipe(said.name, said.lines, kind, character, said.measured, made)
    elif name is None:
        raise click.UsageError("say what it is called, and what goes in, like '500 g sugar'.")
    else:
        asking = False
        said = SaidOfRecipe(name, read_lines(lines, bar), kind, character, told, made)
    if said.lines:
        found = write_recipe(said, bar, replacing=replace)
    else:
        _only_measured(kind, character, replace=replace)
        found = note_measured(said, bar)
    _write(found, bar, asking=asking, dry=dry_run, as_json=as_json)


def _only_measured(kind: str | None, character: tuple[str, ...], *, replace: bool) -> None:
    """Refuse what says something of a recipe of which no line is said."""
    if kind is not None or character or replace:
        what = "--kind, --character and --replace go with lines, like '500 g sugar'."
        raise click.UsageError(what)


def _write(found: WrittenRecipe, bar: Bar, *, asking: bool, dry: bool, as_json: bool) -> None:
    """Say what it is, and put it into its file; the answer comes before anything is written."""
    from solver.files.atomic import prepared
    from solver.files.folders import make_folder
    from solver.show.documents.written_recipe import written_recipe_json
    from solver.show.text.written_recipe import written_recipe_text

    if bar.root is None:
        raise BadInput("there is no bar to put it into")
    wanted = not dry
    if asking and wanted:
        say(written_recipe_text(found, near(found.path), dry=dry), whole=False)
        wanted = terminal.agrees(f"Write this into {near(found.path)}?")
    if wanted:
        make_folder(found.path.parent)
    with prepared(bar.root, [found.change] if wanted else []) as put:
        if as_json:
            say(written_recipe_json(found, written=wanted), whole=True)
        elif not asking or dry:
            say(written_recipe_text(found, near(found.path), dry=dry), whole=False)
        put()
    if wanted:
        note(f"written: {near(found.path)}")
