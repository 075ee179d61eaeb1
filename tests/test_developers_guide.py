"""What DEVELOPERS.md and the rooms' own docstrings send a reader to is there."""

from __future__ import annotations

import ast
import re
from pathlib import Path

ROOT = Path(__file__).parents[1]
GUIDE = (ROOT / "DEVELOPERS.md").read_text(encoding="utf-8")
FOLDERS = ("solver", "tests", "ingredients", "profiles", "demo")


def test_every_file_that_the_guide_names_is_there() -> None:
    """Named from the top, from solver/, or by its name alone."""
    there = {path.name for each in FOLDERS for path in (ROOT / each).rglob("*") if path.is_file()}
    named = set(re.findall(r"`([\w/.-]+\.(?:py|toml|csv|jinja|md))`", GUIDE))
    assert len(named) > 50
    missing = {
        name
        for name in named
        if not any((folder / name).exists() for folder in (ROOT, ROOT / "solver"))
        and (("/" in name) or name not in there)
    }
    # What a bar's own folder may hold, and what the guide says a bar may write.
    assert missing <= {"bar.toml", "shelf.csv", "words.toml"}, missing


def test_every_folder_of_the_program_is_on_the_map() -> None:
    rooms = {path.parent.name for path in (ROOT / "solver").glob("*/__init__.py")}
    assert {room for room in rooms if f"`solver/{room}/`" not in GUIDE} == set()


ROOMS = tuple(sorted((ROOT / "solver").rglob("__init__.py")))


def test_every_module_that_a_room_tells_of_is_there() -> None:
    """Those named by a path, from the room, from one above it or from the top, or in a table."""
    missing = []
    for room in ROOMS:
        text = ast.get_docstring(ast.parse(room.read_text(encoding="utf-8"))) or ""
        paths = re.findall(r"`([a-z_]+/[a-z_/]*)`", text)
        listed = re.findall(r"^    ([a-z_]+)  ", text, re.MULTILINE)
        above = [folder for folder in room.parents if folder.is_relative_to(ROOT)]
        missing += [
            f"{room.relative_to(ROOT)}: {name}"
            for name, folders in [(path, above) for path in paths]
            + [(name, above[:1]) for name in listed]
            if not any((folder / name).exists() for folder in folders)
            and not any((folder / f"{name}.py").exists() for folder in folders)
        ]
    assert not missing
