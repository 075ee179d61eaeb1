"""Where the built-in data is, and the bar. Reads no file, imports little."""

from __future__ import annotations

import os
import shlex
from pathlib import Path

from solver.errors import BadInput, Where
from solver.printable import short

PACKAGE = Path(__file__).parents[1]
"""The folder of `solver` itself."""

ALLERGEN_LISTS = Path(__file__).with_name("allergen_lists.toml")
COUNTRIES = Path(__file__).with_name("countries.toml")
GLASSES = Path(__file__).with_name("glasses.toml")
POUR_SETS = Path(__file__).with_name("pour_sets.toml")
PRACTICE = Path(__file__).with_name("practice.toml")
"""The built-in settings; the top of each file says what its tables hold."""
GUEST_WORDS = Path(__file__).with_name("guest_words.toml")
GUEST_WORDS_ELSEWHERE = (Path(__file__).with_name("guest_words_de.toml"),)
"""What guests say and what they mean; the top of the file says what its tables hold."""
BAR_WORDS = Path(__file__).with_name("bar_words.toml")
"""The built-in words for a wish; likewise."""
GARNISH_WORDS = Path(__file__).with_name("garnish_words.toml")
"""The words of garnishes and notes; likewise."""


BAR_FILE = "bar.toml"
"""What makes a folder a bar."""

SHELF_FILE = "shelf.csv"
WORDS_FILE = "words.toml"
"""The bar's own words for a wish."""
STOCK_LOG = "stock-log.csv"
"""What moved on the shelf; the top of `stock_log.py` says what its columns hold."""


def data_folder(name: str) -> Path:
    """The folder of built-in data called `name`: inside the package, else beside it."""
    packaged = PACKAGE / "data" / name
    return packaged if packaged.is_dir() else PACKAGE.parent / name


YIELDS = data_folder("ingredients") / "yields"
"""What fruit gives, and what garnishes take; the top of each file says where it is from."""


LANGUAGES = PACKAGE / "show" / "words"
"""The words of papers, a file for each language, and in a folder `names` what things are called."""


def languages() -> tuple[str, ...]:
    """The languages of papers, by their codes."""
    return tuple(sorted(path.stem for path in LANGUAGES.glob("*.toml")))


def find_bar(start: Path | None, explicit: Path | None, environment: str | None) -> Path | None:
    """The bar's folder: `explicit`, else EQUIPOUR_BAR, else upward from `start`, else None.

    `start` None: the folder that one stands in is gone.

    Raises:
        BadInput: the folder asked for has no bar.toml, one on the way has a shelf without it, or
            may not be looked into.
    """
    asked = explicit or (Path(environment) if environment else None)
    if asked is not None:
        folder = asked.parent if asked.name == BAR_FILE else asked
        if _has(folder, BAR_FILE):
            return folder
        what = f"there is no bar in {short(str(asked), 80)}"
        remedy = f"Give the folder that holds {BAR_FILE}, or make one with `equipour init`."
        raise BadInput(what, why=f"it has no {BAR_FILE}", remedy=remedy)
    if start is None:
        what = "the folder that this was started in is not there any more"
        raise BadInput(what, remedy="Go to another folder, or give the bar's with --bar.")
    for folder in (start, *start.parents):
        if _has(folder, BAR_FILE):
            return folder
        if _has(folder, SHELF_FILE):
            what = "there is a shelf but no bar"
            remedy = f"`equipour init {_shell(folder, start)}` writes {BAR_FILE} beside it."
            raise BadInput(what, where=Where(folder / SHELF_FILE), remedy=remedy)
    return None


def _shell(folder: Path, start: Path) -> str:
    """A folder as it is typed into a shell by somebody who stands in `start`."""
    return shlex.quote("." if folder == start else os.path.relpath(folder, start))


def _has(folder: Path, name: str) -> bool:
    """Whether something in a folder has that name, be it a file that can be read or not."""
    try:
        (folder / name).lstat()
    except PermissionError:
        what = "the folder may not be looked into"
        raise BadInput(what, where=Where(folder), why="permission denied") from None
    except (OSError, ValueError):  # it is not there, or has no name that a folder can have
        return False
    return True
