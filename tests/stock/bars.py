"""The demonstration's bar, copied so that its stock can move."""

from __future__ import annotations

import shutil
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from tempfile import TemporaryDirectory

from click.testing import CliRunner, Result

from solver.cli.main import main
from solver.pantry.bar import Bar
from solver.pantry.load_bar import load_bar
from solver.tasks.stock.movement import Movement
from solver.tasks.stock.sales_file import SalesFile, SoldLine

DEMO = Path(__file__).parents[2] / "demo"


@contextmanager
def copied() -> Iterator[Path]:
    with TemporaryDirectory() as folder:
        root = Path(folder) / "bar"
        shutil.copytree(DEMO, root)
        yield root


def write(found: Movement | None, bar: Bar) -> None:
    if found is not None:
        with found.prepared(bar) as put:
            put()


def on_hand(root: Path) -> dict[str, float | None]:
    shelf = load_bar(root).shelf
    assert shelf is not None
    return {row.ingredient.key: row.on_hand for row in shelf.rows}


def sales(numbers: dict[str, float], name: str = "sales.csv") -> SalesFile:
    lines = tuple(SoldLine(drink, number, 1) for drink, number in numbers.items())
    return SalesFile(Path(name), lines, (), name)


def run(root: Path, *line: str) -> Result:
    return CliRunner().invoke(main, ["stock", *line, "--bar", str(root)])
