"""How the rooms of `solver` hang together: no file imports, however indirectly, what imports it."""

from __future__ import annotations

import ast
from collections.abc import Iterator, Mapping, Sequence
from functools import cache
from graphlib import CycleError, TopologicalSorter
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[1]

FLOORS = (
    {"mixture", "printable", "today", "clock"}, {"errors", "explain"}, {"quantities", "files"},
    {"measures"}, {"search", "pantry"}, {"harmony", "kitchen", "night"}, {"requests"}, {"drinks"},
    {"tasks"}, {"show"}, {"cli", "api"},
)  # fmt: skip
"""Rooms from the ground up: each imports from those below it, and from none beside it."""
WITHIN_SHOW = ({"words"}, {"text"}, {"documents", "pages"})
"""The same, of the rooms of `show`."""


def _modules() -> Mapping[str, Path]:
    found = {}
    for path in (ROOT / "solver").rglob("*.py"):
        name = ".".join(path.relative_to(ROOT).with_suffix("").parts)
        found[name.removesuffix(".__init__")] = path
    return found


MODULES = _modules()


def _imported(path: Path) -> Iterator[str]:
    """The modules of `solver` that a file imports, wherever in it the import stands."""
    for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
        if isinstance(node, ast.ImportFrom) and node.module:
            for alias in node.names:
                inner = f"{node.module}.{alias.name}"
                yield inner if inner in MODULES else node.module
        elif isinstance(node, ast.Import):
            yield from (alias.name for alias in node.names)


@cache
def _graph() -> Mapping[str, set[str]]:
    return {
        name: {other for other in _imported(path) if other in MODULES and other != name}
        for name, path in MODULES.items()
    }


def test_no_file_imports_what_imports_it() -> None:
    try:
        TopologicalSorter(_graph()).prepare()
    except CycleError as error:
        pytest.fail(" imports ".join(reversed(error.args[1])))


def _upward(at: int, floors: Sequence[set[str]], within: str) -> list[str]:
    """Imports that do not go down, among rooms that are called by a name's part at `at`."""
    floor = {room: level for level, rooms in enumerate(floors) for room in rooms}
    upward = []
    for name, others in _graph().items():
        for other in others:
            ends = [each.split(".") for each in (name, other) if each.startswith(within)]
            if len(ends) < 2 or any(len(each) <= at for each in ends):
                continue
            here, there = (each[at] for each in ends)
            if here != there and floor[here] <= floor[there]:
                upward.append(f"{name} imports {other}")
    return upward


def test_every_room_imports_only_from_the_floors_below() -> None:
    assert not _upward(1, (*FLOORS, {"__main__"}), "solver.")
    assert not _upward(2, WITHIN_SHOW, "solver.show.")
