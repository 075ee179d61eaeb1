"""Files in folders. Reads none, imports little."""

from __future__ import annotations

from pathlib import Path

from solver.errors import BadInput, Where


def toml_files(folder: Path) -> list[Path]:
    """The TOML files directly in `folder`, by name; empty if there is no such folder.

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


def make_folder(path: Path) -> None:
    """Make a folder where there is none; the one around it must be there.

    Raises:
        BadInput: it can't be made.
    """
    try:
        path.mkdir(exist_ok=True)
    except OSError as error:
        why = (error.strerror or "").lower()
        raise BadInput("the folder cannot be made", where=Where(path), why=why) from None
