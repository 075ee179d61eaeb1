"""The command `equipour`: its commands, and how mistakes and interrupts end."""

from __future__ import annotations

import mmap
import os
import sys
from collections.abc import Iterator, Mapping, Sequence
from importlib import import_module
from pathlib import Path
from typing import Any

import click

from solver.cli.bar_option import folder_option
from solver.cli.exit_messages import end_at_once, ended_well, raising_interrupts
from solver.cli.exits import EXIT_CODES
from solver.cli.output import open_streams
from solver.cli.repeated_options import refuse_twice

# Products of small matrices are slower on several threads, and much slower on a busy machine. numpy
# reads this when it is imported, which is later.
os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")

# pydantic would look for plugins in the metadata of everything that is installed. A program that
# imports equipour may have some; a command has none.
os.environ.setdefault("PYDANTIC_DISABLE_PLUGINS", "__all__")

LEAST_ROOM_BYTES = 160 * 1024**2
"""Measured, as virtual memory: with 200 MB in all `design` runs through, with 170 it does not."""


COMMANDS = (
    "design", "check", "tradeoff", "assess", "vary", "specs", "tasted", "card", "swap", "scale",
    "rebalance", "recipe", "prep", "batch", "plan", "menu", "price", "stock", "shelf",
    "ingredients", "profiles", "ask", "init", "help",
)  # fmt: skip


class Imported(Mapping[str, click.Command]):
    """The commands by name; each is imported when it is first asked for."""

    def __getitem__(self, name: str) -> click.Command:
        """The command in the module of its name."""
        if name not in COMMANDS:
            raise KeyError(name)
        known = vars(import_module(f"solver.cli.{name}")).values()
        return next(v for v in known if isinstance(v, click.Command) and v.name == name)

    def __iter__(self) -> Iterator[str]:
        """Their names."""
        return iter(COMMANDS)

    def __len__(self) -> int:
        """How many there are."""
        return len(COMMANDS)


class Commands(click.Group):
    """Commands may raise anything: it is said here, and never as a traceback."""

    def main(
        self,
        args: Sequence[str] | None = None,
        prog_name: str | None = None,
        complete_var: str | None = None,
        standalone_mode: bool = True,
        **extra: Any,
    ) -> Any:
        """As every group, but an interrupt between two steps is no exit code 1 either."""
        try:
            code = super().main(args, prog_name, complete_var, standalone_mode=False, **extra)
        except click.exceptions.NoArgsIsHelpError as error:
            error.show()
            sys.exit(error.exit_code)
        except (click.Abort, KeyboardInterrupt):
            end_at_once(KeyboardInterrupt())
        if standalone_mode:
            sys.exit(code or 0)
        return code

    def make_context(
        self,
        info_name: str | None,
        args: list[str],
        parent: click.Context | None = None,
        **extra: Any,
    ) -> click.Context:
        """As every group, with output that can say everything."""
        open_streams()
        return super().make_context(info_name, args, parent, **extra)

    def parse_args(self, ctx: click.Context, args: list[str]) -> list[str]:
        """Read what stands before the command; exit 2 with a sentence for a slip."""
        with ended_well(ctx):
            return super().parse_args(ctx, args)

    def resolve_command(
        self, ctx: click.Context, args: list[str]
    ) -> tuple[str | None, click.Command | None, list[str]]:
        """As every group; what can be said once and is said twice is refused, and not forgotten."""
        name, command, rest = super().resolve_command(ctx, args)
        if command is not None:
            refuse_twice(command, rest)
        return name, command, rest

    def invoke(self, ctx: click.Context) -> object:
        """Run the command; exit with its code, or with a sentence and the code of its error."""
        with ended_well(ctx), raising_interrupts():
            _check_memory()
            return super().invoke(ctx)


def _check_memory() -> None:
    """Refuse to begin where there is no room for numpy: its library would end the process with 1.

    Raises:
        MemoryError: there is none.
    """
    try:
        mmap.mmap(-1, LEAST_ROOM_BYTES).close()
    except OSError:
        raise MemoryError from None


@click.group(
    cls=Commands,
    commands=Imported(),
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
