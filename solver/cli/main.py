"""The command `equipour`."""

from __future__ import annotations

import os
import sys
from pathlib import Path
from typing import TYPE_CHECKING

import click

from solver.errors import EquipourError

if TYPE_CHECKING:
    from solver.pantry.bar import Bar

EXIT_CODES = """Exit codes: 0 an answer; 1 proven impossible; 2 bad input; 3 stopped without proof;
130 interrupted."""


class Commands(click.Group):
    """Commands may raise what a user can cause: it is said here, and never as a traceback."""

    def invoke(self, ctx: click.Context) -> object:
        """Run the command; exit 2 with a sentence for bad input, 130 when interrupted."""
        try:
            return super().invoke(ctx)
        except EquipourError as error:
            click.echo(f"equipour: {error}", err=True)
            ctx.exit(error.exit_code)
        except KeyboardInterrupt:
            click.echo("equipour: interrupted", err=True)
            ctx.exit(130)


FOLDER = click.option("--bar", "folder", type=click.Path(path_type=Path), help="The bar's folder.")


@click.group(
    cls=Commands,
    context_settings={"help_option_names": ["-h", "--help"], "max_content_width": 100},
    epilog=EXIT_CODES,
)
@click.version_option(package_name="equipour")
def main() -> None:
    """Design mixed drinks from the bottles at hand, and prove the result.

    \b
    equipour design sour --abv 17% --with rhubarb-syrup
    equipour profiles
    """


def _bar(folder: Path | None) -> Bar:
    from solver.pantry.bar import find_bar, load_bar

    return load_bar(find_bar(Path.cwd(), folder, os.environ.get("EQUIPOUR_BAR")))


@main.command()
@click.argument("profile")
@click.option("--abv", multiple=True, help="Strength: 17% is an aim, 15..18% a limit.")
@click.option("--sugar", multiple=True, help="Sugar, like 7 g/100ml or <=8 g/100ml.")
@click.option("--acid", multiple=True, help="Acid as citric, like 0.8 g/100ml.")
@click.option("--volume", multiple=True, help="In the glass, like 150 ml or <=5 oz.")
@click.option("--cost", multiple=True, help="Of one drink, like <=2.50.")
@click.option("--ethanol", multiple=True, help="Alcohol, like <=14 g.")
@click.option("--bottles", multiple=True, help="How many ingredients, like <=4.")
@click.option(
    "--goal",
    type=click.Choice(["closest", "cheapest", "lightest", "fewest"]),
    default="closest",
    show_default=True,
    help="What is best.",
)
@click.option("--with", "wanted", multiple=True, help="An ingredient, or one with its pour.")
@click.option("--without", "unwanted", multiple=True, help="An ingredient, a kind, an allergen.")
@click.option("--character", multiple=True, help="A taste that must be there, like smoke.")
@click.option("--no-character", multiple=True, help="A taste that must not.")
@click.option("--glass", help="The glass that the drink must fit.")
@click.option("--serves", type=click.IntRange(1), default=1, help="The stock must make so many.")
@click.option("--alternatives", type=click.IntRange(0, 9), default=0, help="With another base.")
@click.option("--time-limit", "seconds", type=click.FloatRange(0.1), default=60.0, help="Seconds.")
@FOLDER
@click.option("--json", "as_json", is_flag=True, help="One JSON document.")
def design(
    profile: str,
    goal: str,
    wanted: tuple[str, ...],
    unwanted: tuple[str, ...],
    character: tuple[str, ...],
    no_character: tuple[str, ...],
    glass: str | None,
    serves: int,
    alternatives: int,
    seconds: float,
    folder: Path | None,
    as_json: bool,
    **measures: tuple[str, ...],
) -> None:
    """The best drink of a PROFILE that the shelf can make."""
    from solver.pantry.profile_files import find_profile, profile_files
    from solver.search.cpsat import CpSat
    from solver.search.loop import Ending
    from solver.search.problem import Goal
    from solver.show.document import design_json
    from solver.show.text import design_text
    from solver.tasks.design import design as solve
    from solver.tasks.request import Request

    bar = _bar(folder)
    target = find_profile(profile, profile_files(bar.profiles))
    request = Request(
        measures,
        wanted,
        unwanted,
        Goal(goal),
        glass,
        serves,
        seconds,
        alternatives,
        character,
        no_character,
    )
    found = solve(target, bar, request, CpSat())
    click.echo(design_json(found, bar) if as_json else design_text(found, bar))
    if found.interrupted:
        sys.exit(130)
    sys.exit({Ending.OPTIMAL: 0, Ending.IMPOSSIBLE: 1, Ending.STOPPED: 3}[found.ending])


@main.command()
@click.argument("pours", nargs=-1, required=True)
@click.option("--technique", default="shake", show_default=True, help="shake, stir, build, ...")
@FOLDER
def assess(pours: tuple[str, ...], technique: str, folder: Path | None) -> None:
    """What existing POURS are in the glass, each like '2 oz rye-whiskey'."""
    from solver.show.text import assessment_text
    from solver.tasks.assess import assess as measure

    bar = _bar(folder)
    click.echo(assessment_text(measure(pours, technique, bar), bar))


@main.command()
@FOLDER
def shelf(folder: Path | None) -> None:
    """What the bar has."""
    from solver.show.text import shelf_text

    click.echo(shelf_text(_bar(folder)))


@main.command()
@click.argument("name", required=False)
@FOLDER
def ingredients(name: str | None, folder: Path | None) -> None:
    """Every ingredient, or what is known of NAME and from where."""
    from solver.show.text import ingredient_text

    library = _bar(folder).library
    if name is not None:
        click.echo(ingredient_text(library.find(name)))
        return
    for item in library:
        click.echo(f"{item.key:<32} {item.name}")


@main.command()
@click.argument("name", required=False)
@FOLDER
def profiles(name: str | None, folder: Path | None) -> None:
    """The profiles that a drink can be designed to, or what NAME asks for."""
    from solver.pantry.profile_files import find_profile, load_profiles, profile_files
    from solver.show.text import profile_text

    bar = _bar(folder)
    if name is not None:
        click.echo(profile_text(find_profile(name, profile_files(bar.profiles))))
        return
    found = load_profiles(bar.profiles)
    for profile in found:
        click.echo(f"{profile.name:<20} {profile.says}")
