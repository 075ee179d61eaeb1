"""The pages under test: every one that a command writes, on the demonstration bar and beyond it."""

from __future__ import annotations

import shutil
from collections.abc import Iterator
from dataclasses import dataclass
from itertools import product
from pathlib import Path

from click.testing import CliRunner

from solver.cli.main import main
from solver.drinks.card import Reader
from solver.show.words import languages

DEMO = Path(__file__).parents[2] / "demo"
SIZES = ("page", "index", "phone")
BOOKS = tuple(
    f"book-{reader.value}-{size}-{language}"
    for reader, size, language in product(Reader, SIZES, languages())
)
CARDS = ("odd-page", "odd-index", "odd-phone", "single")
OTHERS = (
    *(f"{paper}-{language}" for paper in ("plan", "labels") for language in languages()),
    "plan-drinks", "label-odd",
)  # fmt: skip
NAMES = (*BOOKS, *CARDS, *OTHERS)
SHOWN = tuple(name for name in NAMES if not name.endswith(("-phone", "-index"))
              and "-index-" not in name and "-phone-" not in name)  # fmt: skip
"""Those that differ on a screen: the size of a card's paper tells in print alone."""
PICTURES = ("odd", "harbour-light", "last-ferry", "dry-dock")

ODD = """\
name = "{name}"
technique = "shake"
glass = "coupe"
garnish = "{garnish}"
notes = "{notes}"
pours = [
  {{ ingredient = "gin", amount = "2 oz" }},
  {{ ingredient = "lemon-juice", amount = "3/4 oz" }},
  {{ ingredient = "rhubarb-syrup", amount = "3/4 oz" }},
]
"""


@dataclass(frozen=True)
class Written:
    """A page in a file, and on how many sheets it is to be printed."""

    path: Path
    sheets: int


def write_pages(folder: Path) -> dict[str, Written]:
    """Have the commands write every page."""
    odd = odd_bar(folder / "bar")
    drinks = len(list((DEMO / "specs").glob("*.toml")))
    found: dict[str, Written] = {}
    for name, arguments, bar, sheets in _asked(drinks, odd):
        path = folder / (name if "." in name else f"{name}.html")
        told = CliRunner().invoke(main, [*arguments, "-o", str(path), "--bar", str(bar)])
        assert told.exit_code == 0, told.stderr
        found[name] = Written(path, sheets)
    return found


def _asked(drinks: int, odd: Path) -> Iterator[tuple[str, list[str], Path, int]]:
    for name in BOOKS:
        _, reader, size, language = name.split("-")
        asked = ["card", "--book", "--for", reader, "--size", size, "--language", language]
        yield name, asked, DEMO, 1 + drinks
    for size in SIZES:
        yield f"odd-{size}", ["card", "odd", "--size", size], odd, 1
    for spec in PICTURES:
        yield f"{spec}.svg", ["card", spec], odd, 1
    yield "single", ["card", "low-water"], DEMO, 1
    for language in languages():
        said = ["--language", language]
        sheets = 5 if language == "de" else 4  # its words are longer, and the picture stays whole
        yield f"plan-{language}", ["plan", "weekend", *said], DEMO, sheets
        bottled = ["batch", "--bottle", "700 ml", "--label", "weighbridge", "--bottles", "14"]
        yield f"labels-{language}", [*bottled, *said], DEMO, 2
    yield "plan-drinks", ["plan", "--drinks", "40", "harbour-light", "dry-dock"], DEMO, 3
    label = ["batch", "--bottle", "700 ml", "--label", "odd", "--bottles", "1"]
    yield "label-odd", label, odd, 1


def odd_bar(folder: Path) -> Path:
    """The demonstration bar with a drink of which every word is longer than a line."""
    shutil.copytree(DEMO, folder)
    spec = ODD.format(name="W" * 90, garnish="g" * 120, notes="n" * 200 + " note" * 40)
    (folder / "specs" / "odd.toml").write_text(spec, encoding="utf-8")
    return folder
