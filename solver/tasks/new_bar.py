"""A new bar: a folder with all files that a bar needs, ready to load."""

from __future__ import annotations

import contextlib
import json
import os
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from importlib.resources import files
from pathlib import Path
from string import Template
from typing import Literal

from solver.errors import BadInput, Where
from solver.files.atomic import FileChange, FilePlace, prepared
from solver.files.folders import make_folder
from solver.pantry.bar_file import currency_code
from solver.pantry.defaults import load_defaults
from solver.pantry.folders import BAR_FILE, SHELF_FILE

JiggerUnit = Literal["oz", "ml"]

USUAL_COUNTRY = "United States"
ELSEWHERE, NOT_LISTED = "elsewhere", "World Health Organization"
"""What somebody says whose country is not listed, and what is taken for it."""
IN_OUNCES = ("United States", "Canada")
"""Where jiggers are marked in ounces: common practice, no source."""
STARTER = {
    BAR_FILE: "bar.toml",
    SHELF_FILE: "shelf.csv",
    "house/ginger-syrup.toml": "ginger-syrup.toml",
    "specs/first-sour.toml": "first-sour.toml",
}
"""What is written, within the bar's folder, from which file of `starter/`."""
EMPTY_BAR = (BAR_FILE, SHELF_FILE)
"""What is written of that for a bar without a bottle: its settings, and a shelf of columns."""
_AMOUNTS = {
    "oz": {"base": "2 oz", "sour": "3/4 oz", "sweet": "3/4 oz", "bottle": "750 ml"},
    "ml": {"base": "60 ml", "sour": "25 ml", "sweet": "20 ml", "bottle": "700 ml"},
}


@dataclass(frozen=True)
class Choices:
    """The settings of a new bar: pour set, currency and jurisdiction.

    `currency` is a three-letter code, or empty if not stated.
    """

    pour_set: str
    currency: str
    country: str


@dataclass(frozen=True)
class NewBar:
    """A new bar: its folder, the files written, and those that existed; `empty` has no bottles."""

    root: Path
    choices: Choices
    written: tuple[Path, ...]
    kept: tuple[Path, ...]
    empty: bool = False


def usual_unit(country: str) -> JiggerUnit:
    """The unit in which jiggers are marked in a country."""
    return "oz" if country in IN_OUNCES else "ml"


def country_called(text: str) -> str:
    """The jurisdiction that a name or code means.

    Raises:
        BadInput: it is not known.
    """
    defaults = load_defaults()
    if text.casefold() == ELSEWHERE:
        return NOT_LISTED
    try:
        return defaults.jurisdiction(text).name
    except BadInput as error:
        remedy = f"Say '{ELSEWHERE}', or one of: {', '.join(sorted(defaults.currencies))}."
        raise BadInput(error.what, near=error.near, remedy=remedy) from None


def pour_sets_in(unit: JiggerUnit) -> tuple[str, ...]:
    """The built-in pour sets of a unit, the coarsest and most usual first."""
    return tuple(name for name, each in load_defaults().pour_sets.items() if each.unit == unit)


def check_choices(choices: Choices) -> Choices:
    """The choices in the form in which files state them.

    Raises:
        BadInput: one of them is not known.
    """
    load_defaults().pour_set(choices.pour_set)
    return Choices(
        pour_set=choices.pour_set,
        currency=currency_code(choices.currency) if choices.currency else "",
        country=country_called(choices.country),
    )


def check_room(folder: Path) -> None:
    """Refuse a folder that is a bar already.

    Raises:
        BadInput: it is one, or is no folder.
    """
    if os.path.lexists(folder / BAR_FILE):
        remedy = "Give another folder, or edit that file."
        raise BadInput("there is a bar already", where=Where(folder / BAR_FILE), remedy=remedy)
    if os.path.lexists(folder) and not folder.is_dir():
        raise BadInput("that is a file and no folder", where=Where(folder))


@contextlib.contextmanager
def new_bar(
    folder: Path, choices: Choices, *, empty: bool = False
) -> Iterator[tuple[NewBar, Callable[[], None]]]:
    """A new bar in `folder`, which is created if needed, and the call that writes its files.

    Existing files are kept. An `empty` bar has no bottles, recipes or specs.

    Raises:
        BadInput: a choice is not known, it is a bar already, or the system refuses; then nothing
            is written.
    """
    choices = check_choices(choices)
    check_room(folder)
    texts = texts_of(folder, choices)
    if empty:
        texts = {name: texts[name] for name in EMPTY_BAR}
        texts[SHELF_FILE] = texts[SHELF_FILE].splitlines(keepends=True)[0]
    kept = tuple(folder / name for name in texts if os.path.lexists(folder / name))
    changes = [
        FileChange(FilePlace(folder / name), text.encode())
        for name, text in texts.items()
        if folder / name not in kept
    ]
    written = tuple(change.place.path for change in changes)
    opened = NewBar(folder, choices, written, kept, empty)
    with _folders(folder), prepared(folder, changes) as put:
        yield opened, put


@contextlib.contextmanager
def _folders(folder: Path) -> Iterator[None]:
    """Make the folders of a bar; those that were made are removed where the body fails."""
    made: list[Path] = []
    try:
        for path in (folder, *(folder / name for name in ("house", "specs"))):
            new = not os.path.lexists(path)
            make_folder(path)
            if new:
                made.append(path)
        yield
    except BaseException:
        for path in reversed(made):
            with contextlib.suppress(OSError):
                path.rmdir()
        raise


def texts_of(folder: Path, choices: Choices) -> dict[str, str]:
    """The content of each file of a new bar, by its path within the folder."""
    defaults = load_defaults()
    pour_set = defaults.pour_sets[choices.pour_set]
    country = defaults.jurisdictions[choices.country]
    words = {
        "name": json.dumps(_name_of(folder), ensure_ascii=False),
        "pour_set": pour_set.name,
        "pour_set_says": pour_set.says,
        "others": ", ".join(name for name in defaults.pour_sets if name != pour_set.name),
        "no_currency": "" if choices.currency else "#",
        "currency": choices.currency or "EUR",
        "country": choices.country,
        "standard_drink": f"{country.standard_drink.g:g}",
        "ounce": f"{pour_set.ounce_ml:g} ml",
        **_AMOUNTS[pour_set.unit],
    }
    starter = files("solver.tasks") / "starter"
    return {
        name: Template((starter / source).read_text(encoding="utf-8")).substitute(words)
        for name, source in STARTER.items()
    }


def starter_bottles() -> frozenset[str]:
    """Keys of the ingredients on a new bar's shelf."""
    text = (files("solver.tasks") / "starter" / "shelf.csv").read_text(encoding="utf-8")
    return frozenset(line.partition(",")[0] for line in text.splitlines()[1:])


def _name_of(folder: Path) -> str:
    """A name for a bar after its folder, without characters that a TOML string cannot hold."""
    name = "".join(sign for sign in folder.resolve().name if sign.isprintable())
    return " ".join(name.split()) or "our bar"
