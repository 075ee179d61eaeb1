"""Shell completion of names. Reads tables with the standard library only, so that it is quick.

A name that can't be looked up is not completed; nothing is ever said on the way.
"""

from __future__ import annotations

import contextlib
from collections.abc import Callable
from pathlib import Path
from typing import Any

import click
from click.shell_completion import CompletionItem

from solver.cli.folder import bar_folder
from solver.errors import BadInput
from solver.printable import printable

Names = dict[str, str]
"""Names to choose from, each with what a shell may show beside it."""

Completer = Callable[[click.Context, click.Parameter, str], list[CompletionItem]]


def _completer(names: Callable[[Path | None], Names]) -> Completer:
    def complete(
        context: click.Context, parameter: click.Parameter, incomplete: str
    ) -> list[CompletionItem]:
        del parameter
        begun = incomplete.casefold()
        return [
            CompletionItem(name, help=printable(says) or None)
            for name, says in sorted(names(_bar(context)).items())
            if name.startswith(begun) and name.isprintable()
        ]

    return complete


def _bar(context: click.Context) -> Path | None:
    with contextlib.suppress(BadInput, OSError):
        return bar_folder(context, context.params.get("folder"))
    return None


def _files(*folders: Path | None) -> list[Path]:
    from solver.files.folders import toml_files

    found: list[Path] = []
    for folder in folders:
        with contextlib.suppress(BadInput):
            found += toml_files(folder) if folder else []
    return found


def _tables(path: Path) -> dict[str, Any]:
    import tomllib

    from solver.files.read import read_bytes

    with contextlib.suppress(BadInput, ValueError, RecursionError):
        return tomllib.loads(read_bytes(path).decode("utf-8-sig"))
    return {}


def _within(bar: Path | None, name: str) -> Path | None:
    return bar / name if bar else None


def _profiles(bar: Path | None) -> Names:
    from solver.pantry.folders import data_folder

    paths = _files(data_folder("profiles"), _within(bar, "profiles"))
    return {path.stem: str(_tables(path).get("says", "")) for path in paths}


def _specs(bar: Path | None) -> Names:
    return {path.stem: str(_tables(path).get("name", "")) for path in _files(_within(bar, "specs"))}


def _plans(bar: Path | None) -> Names:
    paths = _files(_within(bar, "plans"))
    return {path.stem: str(_tables(path).get("name", "")) for path in paths} | _specs(bar)


def _ingredients(bar: Path | None) -> Names:
    from solver.pantry.folders import data_folder

    found = {
        key: str(table.get("name", ""))
        for path in _files(data_folder("ingredients"), _within(bar, "house"))
        for key, table in _tables(path).items()
        if isinstance(table, dict)
    }
    return _labels(bar) | found


def _labels(bar: Path | None) -> Names:
    """What the bar calls its bottles, with hyphens for spaces, as one word of a command line."""
    import csv

    from solver.files.read import read_bytes
    from solver.pantry.folders import SHELF_FILE

    if bar is None:
        return {}
    with contextlib.suppress(BadInput, ValueError, csv.Error):
        text = read_bytes(bar / SHELF_FILE).decode("utf-8-sig")
        mark = max(",;\t", key=text.partition("\n")[0].count)
        return {
            "-".join(label.casefold().split()): str(row.get("ingredient") or "")
            for row in csv.DictReader(text.splitlines(), delimiter=mark)
            if (label := str(row.get("label") or ""))
        }
    return {}


def _recipes(bar: Path | None) -> Names:
    return {
        key: str(table.get("name", ""))
        for path in _files(_within(bar, "house"))
        for key, table in _tables(path).items()
        if isinstance(table, dict) and "recipe" in table
    }


def _built_in(file: Path, table: str) -> Names:
    return {name: str(row["says"]) for name, row in _tables(file)[table].items()}


def _glasses(bar: Path | None) -> Names:
    from solver.pantry.folders import GLASSES

    own = _tables(bar / "bar.toml").get("glasses") if bar else None
    return _built_in(GLASSES, "glasses") | dict.fromkeys(own if isinstance(own, dict) else (), "")


def _pour_sets(bar: Path | None) -> Names:
    del bar
    from solver.pantry.folders import POUR_SETS

    return _built_in(POUR_SETS, "pour_sets")


def _techniques(bar: Path | None) -> Names:
    del bar
    from solver.pantry.vocabulary import TECHNIQUES

    return TECHNIQUES


def _characters(bar: Path | None) -> Names:
    del bar
    from solver.pantry.vocabulary import CHARACTERS

    return CHARACTERS


def _kinds(bar: Path | None) -> Names:
    del bar
    from solver.pantry.vocabulary import KINDS

    return KINDS


def _words(bar: Path | None) -> Names:
    from solver.pantry.folders import BAR_WORDS, WORDS_FILE

    tables = _tables(BAR_WORDS) | (_tables(bar / WORDS_FILE) if bar else {})
    return {
        key: str(table.get("says", "")) for key, table in tables.items() if isinstance(table, dict)
    }


def _measures(bar: Path | None) -> Names:
    del bar
    from solver.measures import MEASURES

    return {name: measure.label for name, measure in MEASURES.items()}


def _avoidable(bar: Path | None) -> Names:
    from solver.pantry.folders import GUEST_WORDS
    from solver.pantry.vocabulary import KIND_FAMILIES, KINDS

    guests = {word: str(table["says"]) for word, table in _tables(GUEST_WORDS).items()}
    return _ingredients(bar) | KINDS | dict.fromkeys(KIND_FAMILIES, "") | guests


def _targets(bar: Path | None) -> Names:
    return _specs(bar) | _profiles(bar)


complete_profile = _completer(_profiles)
complete_target = _completer(_targets)
complete_spec = _completer(_specs)
complete_ingredient = _completer(_ingredients)
complete_recipe = _completer(_recipes)
complete_avoidable = _completer(_avoidable)
complete_character = _completer(_characters)
complete_kind = _completer(_kinds)
complete_word = _completer(_words)
complete_measure = _completer(_measures)
complete_glass = _completer(_glasses)
complete_pour_set = _completer(_pour_sets)
complete_technique = _completer(_techniques)
complete_plan = _completer(_plans)
