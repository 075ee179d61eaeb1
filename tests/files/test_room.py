"""What the room of files may know: nothing of what the files are about."""

from __future__ import annotations

import ast
from pathlib import Path

import pytest

ROOM = Path(__file__).parents[2] / "solver" / "files"
ALLOWED = ("solver.errors", "solver.printable", "solver.files")


@pytest.mark.parametrize("path", sorted(ROOM.glob("*.py")), ids=lambda path: path.stem)
def test_a_module_of_the_room_imports_nothing_from_the_rooms_above(path: Path) -> None:
    tree = ast.parse(path.read_text(encoding="utf-8"))
    ours = [
        node.module or ""
        for node in ast.walk(tree)
        if isinstance(node, ast.ImportFrom) and (node.module or "").startswith("solver")
    ]
    assert [name for name in ours if not name.startswith(ALLOWED)] == []
