"""Where files are: the built-in data, a bar, the files in a folder. Reads none, imports little."""

from __future__ import annotations

from importlib.resources import files
from pathlib import Path

from solver.errors import BadInput, Where

DEFAULTS = Path(__file__).with_name("defaults.toml")
"""The built-in settings."""
GUEST_WORDS = Path(__file__).with_name("guest_words.toml")
"""What guests say and what they mean; the top of the file says what its tables hold."""
GARNISH_WORDS = Path(__file__).with_name("garnish_words.toml")
"""The words of garnishes and notes; likewise."""


def data_folder(name: str) -> Path:
    """The folder of built-in data called `name`: inside the package, else beside it."""
    packaged = Path(str(files("solver"))) / "data" / name
    return packaged if packaged.is_dir() else Path(str(files("solver"))).parent / name


def toml_files(folder: Path) -> list[Path]:
    """The TOML files directly in `folder`, by name; none where there is no such folder.

    Raises:
        BadInput: the folder may not be read.
    """
    try:
        return sorted(path for path in folder.iterdir() if path.suffix == ".toml")
    except (FileNotFoundError, NotADirectoryError):
        return []
    except OSError as error:
        why = (error.strerror or "").lower()
        raise BadInput("the folder cannot be read", where=Where(folder), why=why) from None


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
        from solver.pantry.checked import short

        what = f"there is no bar in {short(str(asked), 80)}"
        remedy = "Give the folder that holds bar.toml."
        raise BadInput(what, why="it has no bar.toml", remedy=remedy)
    return next((folder for folder in (start, *start.parents) if _is_bar(folder)), None)


def _is_bar(folder: Path) -> bool:
    try:
        return (folder / "bar.toml").is_file()
    except (OSError, ValueError):  # not to be looked into, or no name that a folder can have
        return False
