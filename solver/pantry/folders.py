"""Where the built-in data is, and the bar. Reads no file, imports little."""

from __future__ import annotations

from importlib.resources import files
from pathlib import Path

from solver.errors import BadInput
from solver.printable import short

DEFAULTS = Path(__file__).with_name("defaults.toml")
"""The built-in settings."""


def data_folder(name: str) -> Path:
    """The folder of built-in data called `name`: inside the package, else beside it."""
    packaged = Path(str(files("solver"))) / "data" / name
    return packaged if packaged.is_dir() else Path(str(files("solver"))).parent / name


def find_bar(start: Path, explicit: Path | None, environment: str | None) -> Path | None:
    """The bar's folder: `explicit`, else EQUIPOUR_BAR, else upward from `start`, else None.

    Raises:
        BadInput: the folder asked for has no bar.toml.
    """
    asked = explicit or (Path(environment) if environment else None)
    if asked is not None:
        folder = asked.parent if asked.name == "bar.toml" else asked
        if _is_bar(folder):
            return folder
        what = f"there is no bar in {short(str(asked), 80)}"
        remedy = "Give the folder that holds bar.toml."
        raise BadInput(what, why="it has no bar.toml", remedy=remedy)
    return next((folder for folder in (start, *start.parents) if _is_bar(folder)), None)


def _is_bar(folder: Path) -> bool:
    try:
        return (folder / "bar.toml").is_file()
    except (OSError, ValueError):  # not to be looked into, or no name that a folder can have
        return False
