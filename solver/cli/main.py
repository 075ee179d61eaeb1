"""The command `equipour`: its commands, and how mistakes and interrupts end."""

from __future__ import annotations

import os
from pathlib import Path
from typing import NoReturn

import click

from solver.cli.assess import assess
from solver.cli.check import check
from solver.cli.design import design
from solver.cli.ingredients import ingredients
from solver.cli.options import folder_option
from solver.cli.prep import prep
from solver.cli.profiles import profiles
from solver.cli.rebalance import rebalance
from solver.cli.shelf import shelf
from solver.cli.swap import swap
from solver.cli.tradeoff import tradeoff
from solver.errors import BadInput, EquipourError

# Products of small matrices are slower on several threads, and much slower on a busy machine. numpy
# reads this when it is imported, which is later.
os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")

EXIT_CODES = """Exit codes: 0 an answer; 1 proven impossible; 2 bad input; 3 stopped, and
not all proven that was asked for; 4 two solvers disagree, a fault of ours; 130 interrupted."""


class Commands(click.Group):
    """Commands may raise what a user can cause: it is said here, and never as a traceback."""

    def parse_args(self, ctx: click.Context, args: list[str]) -> list[str]:
        """Read what stands before the command; exit 2 with a sentence for a slip."""
        try:
            return super().parse_args(ctx, args)
        except click.UsageError as error:
            _refuse(error, ctx)

    def invoke(self, ctx: click.Context) -> object:
        """Run the command; exit 2 with a sentence for bad input, 130 when interrupted."""
        try:
            return super().invoke(ctx)
        except EquipourError as error:
            click.echo(f"equipour: {error}", err=True)
            ctx.exit(error.exit_code)
        except click.UsageError as error:
            _refuse(error, ctx)
        except KeyboardInterrupt:
            click.echo("equipour: interrupted", err=True)
            ctx.exit(130)


def _refuse(error: click.UsageError, context: click.Context) -> NoReturn:
    """Say a slip in the options as every other mistake; no arguments at all show the help text."""
    if isinstance(error, click.exceptions.NoArgsIsHelpError):
        raise error
    said, _, near = error.format_message().partition(" Did you mean ")
    help_text = f"See {(error.ctx or context).command_path} --help."
    remedy = f"Did you mean {near} {help_text}" if near else help_text
    slip = BadInput(f"{said[:1].lower()}{said[1:].rstrip('.')}", remedy=remedy)
    click.echo(f"equipour: {slip}", err=True)
    context.exit(slip.exit_code)


@click.group(
    cls=Commands,
    context_settings={"help_option_names": ["-h", "--help"], "max_content_width": 100},
    epilog=EXIT_CODES,
)
@click.version_option(package_name="equipour")
@folder_option
def main(folder: Path | None) -> None:
    """Design mixed drinks from the bottles at hand, and prove the result.

    \b
    equipour design sour --abv 17% --with rhubarb-syrup
    equipour check sour --without dairy --standard-drinks '<=1'
    equipour profiles
    """


for command in (
    design, check, tradeoff, assess, swap, rebalance, prep, shelf, ingredients, profiles,
):  # fmt: skip
    main.add_command(command)
