"""A house recipe that is asked for on a terminal, line by line."""

from __future__ import annotations

import shlex
from typing import TYPE_CHECKING

import click

from solver.cli import terminal
from solver.cli.output import note
from solver.errors import BadInput

if TYPE_CHECKING:
    from collections.abc import Sequence

    from solver.pantry.bar import Bar
    from solver.tasks.prep.recipe_lines import SaidLine
    from solver.tasks.prep.write_recipe import SaidOfRecipe

NOTHING = ""


def asked_recipe(name: str | None, bar: Bar, *, replacing: bool) -> SaidOfRecipe:
    """What somebody at a terminal says of a recipe; `name` where that was said already."""
    from solver.tasks.prep.said_amounts import EXAMPLES, STEPS
    from solver.tasks.prep.write_recipe import SaidOfRecipe, check_name

    def named(text: str) -> str:
        if not text:
            raise BadInput("a recipe needs a name")
        check_name(text, bar, replacing=replacing)
        return text

    if name is None:
        name = terminal.ask("What is it called", NOTHING, named)
    else:
        check_name(name, bar, replacing=replacing)
    click.echo(f"A line for each thing that goes in or is done, like {EXAMPLES}.", err=True)
    click.echo(f"Steps: {STEPS}. An empty line ends it.", err=True)
    typed, lines = _lines(bar)
    measured = {
        "weight": _amount("What came out, weighed, like 1.35 kg (empty: not yet)", "mass", bar),
        "brix": _amount("Its Brix, if it was read (empty: not read)", "brix", bar),
    }
    measured = {key: text for key, text in measured.items() if text}
    options = [word for key, text in measured.items() for word in (f"--{key}", text)]
    note(f"the same, unasked: {shlex.join(['equipour', 'recipe', name, *typed, *options])}")
    return SaidOfRecipe(name, lines, measured=measured)


def _lines(bar: Bar) -> tuple[Sequence[str], Sequence[SaidLine]]:
    """The lines as typed and as read, each asked again until it can be; at least one."""
    from solver.tasks.prep.recipe_lines import read_line

    typed: list[str] = []
    found: list[SaidLine] = []
    while True:
        text = click.prompt(f"{len(found) + 1}", default=NOTHING, show_default=False, err=True)
        if not text.strip() and found:
            return typed, found
        try:
            found.append(read_line(text, bar))
        except BadInput as error:
            click.echo(str(error), err=True)
            text = _one_of(error, text, bar) if error.near else NOTHING
            if text:
                found.append(read_line(text, bar))
        if len(found) > len(typed):
            typed.append(text)


def _one_of(error: BadInput, text: str, bar: Bar) -> str:
    """The line with one of the names that may have been meant; nothing where none was."""
    from solver.tasks.prep.recipe_lines import read_line, with_name

    listed = "".join(f"  {number} {name}" for number, name in enumerate(error.near, start=1))

    def chosen(answer: str) -> str:
        if answer == "0" or (answer.isdecimal() and int(answer) <= len(error.near)):
            return answer
        raise BadInput("that is none of the numbers")

    number = int(terminal.ask(f"Which:{listed}  0 none, write it anew", "0", chosen))
    if number == 0:
        return NOTHING
    said = with_name(text, error.near[number - 1], bar)
    try:
        read_line(said, bar)
    except BadInput as again:
        click.echo(str(again), err=True)
        return NOTHING
    return said


def _amount(question: str, quantity: str, bar: Bar) -> str:
    """An amount that can be read, or nothing."""
    from solver.pantry.stocked_as import is_bare
    from solver.quantities import parse

    def read(text: str) -> str:
        said = f"{text} Brix" if quantity == "brix" and text and is_bare(text) else text
        if said:
            parse(said, quantity, bar.measures)
        return said

    return terminal.ask(question, NOTHING, read)
