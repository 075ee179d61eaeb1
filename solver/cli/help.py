"""`equipour help`: of a command, of the files of a bar, or what there is help on."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from pathlib import Path
from typing import TYPE_CHECKING

import click

from solver.cli.options import json_option
from solver.cli.output import say
from solver.cli.output_file import output_options, output_place, write_output
from solver.errors import BadInput

if TYPE_CHECKING:
    from solver.pantry.reference import FileWords

WORDS, FILES = "words", "files"
FOLDERS = ("profiles", "specs")
"""Commands that are called as a folder of the bar is, which has keys of its own to tell."""


@click.command(name="help", short_help="Of a command, or of the keys of a file.")
@click.argument("topic", nargs=-1)
@click.option("--markdown", is_flag=True, help="As a page of Markdown.")
@output_options("FILE", "Write it.")
@json_option
@click.pass_context
def help_(
    context: click.Context,
    topic: tuple[str, ...],
    markdown: bool,
    place: Path | None,
    replace: bool,
    as_json: bool,
) -> None:
    """Help on a TOPIC: a command (shelf add), a file (bar.toml) or a list of words (characters)."""
    target = output_place(place, replace=replace)
    command = _command_help(context, topic) or _list(topic)
    files = () if command else _files(topic, context)
    if (markdown or as_json) and (command or not topic):
        raise click.UsageError("--markdown and --json are of files: `equipour help files`.")
    said = command or _said(files, topic, markdown=markdown, as_json=as_json)
    if target is None:
        say(said, whole=markdown or as_json or bool(command))
        return
    write_output(f"{said}\n".encode(), target)


def _said(
    files: Sequence[FileWords], topic: tuple[str, ...], *, markdown: bool, as_json: bool
) -> str:
    from solver.pantry import reference
    from solver.show.documents.reference import reference_json
    from solver.show.text import reference as show

    if as_json:
        return reference_json(files)
    if markdown:
        return show.page(files)
    if not topic:
        return f"Help on a command: equipour help design\n\n{show.topics_text(reference.FILES)}"
    if topic[0].casefold() == WORDS:
        return show.lists_text()
    several: Callable[[Sequence[FileWords]], str] = show.files_text
    return several(files) if len(files) > 1 else show.file_text(files[0])


def _files(topic: tuple[str, ...], context: click.Context) -> Sequence[FileWords]:
    """The files that a topic means.

    Raises:
        BadInput: it is neither that nor a command.
    """
    from solver.pantry.reference import FILES as KNOWN
    from solver.pantry.reference import find_file, lists

    name = " ".join(topic)
    if not topic or name.casefold() in (FILES, WORDS):
        return KNOWN
    file = find_file(name)
    if file is not None:
        return (file,)
    from solver.files.near_words import near_words
    from solver.printable import short

    commands = _group(context).commands
    known = [*commands, *(each.name for each in KNOWN), *lists(), FILES, WORDS]
    what = f"there is no help on '{short(name)}'"
    raise BadInput(what, near=near_words(name, known), remedy="See `equipour help`.")


def _list(topic: tuple[str, ...]) -> str:
    """The list of words that a topic names; empty where it names none."""
    from solver.pantry.reference import find_list
    from solver.show.text.reference import lists_text

    name = find_list(" ".join(topic)) if topic else None
    return lists_text(name) if name else ""


def _command_help(context: click.Context, topic: tuple[str, ...]) -> str:
    """The help text of the command that a topic names; empty where it names none."""
    at, command = context.find_root(), context.find_root().command
    for word in topic:
        below = command.get_command(at, word) if isinstance(command, click.Group) else None
        if below is None:
            return ""
        at, command = click.Context(below, info_name=word, parent=at), below
    if not topic:
        return ""
    said = command.get_help(at)
    other = f"\n\nOf the files in {topic[-1]}/: equipour help {topic[-1]}/"
    return said + (other if topic[-1] in FOLDERS else "")


def _group(context: click.Context) -> click.Group:
    root = context.find_root().command
    if not isinstance(root, click.Group):
        msg = "help is a command of a group"
        raise TypeError(msg)
    return root
