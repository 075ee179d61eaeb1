"""The order in which somebody keeps the rows of a shelf changes no byte of any answer."""

import random
import re
import shutil
from pathlib import Path

import pytest
from click.testing import CliRunner

from solver.cli.main import main

DEMO = Path(__file__).parents[2] / "demo"
COMMANDS = (
    ("design", "sour", "--with", "rhubarb-syrup", "--json"),
    ("design", "highball", "--goal", "fewest", "--alternatives", "1"),
    ("design", "sour-foam", "--without", "egg"),
    ("design", "old-fashioned", "--goal", "cheapest"),
    ("check", "bollard-sour", "--with", "rye-whiskey", "--standard-drinks", "<=1"),
    ("tradeoff", "highball", "--points", "6"),
    ("assess", "weighbridge", "--json"),
    ("swap", "rope-store", "bourbon"),
    ("swap", "rope-store", "bourbon", "--split", "bourbon + rye-whiskey"),
    ("rebalance", "--out-of", "bourbon", "--json"),
    ("prep", "rhubarb-syrup", "--json"),
    ("prep", "rhubarb-syrup", "--aim", "sugar 45 g/100ml", "--fortify-to-keep"),
)


def said(command: tuple[str, ...], bar: Path) -> str:
    """What a command prints, without how long it took."""
    result = CliRunner().invoke(main, [*command, "--bar", str(bar)])
    timeless = re.sub(r"[0-9.]+ s\.", "", result.output)
    return re.sub(r'"seconds": [0-9.]+', "", timeless)


@pytest.mark.parametrize("command", COMMANDS, ids=" ".join)
def test_rows_of_the_shelf_in_another_order_change_no_byte(
    command: tuple[str, ...], tmp_path: Path
) -> None:
    bar = tmp_path / "bar"
    shutil.copytree(DEMO, bar)
    first = said(command, bar)
    head, *rows = (bar / "shelf.csv").read_text(encoding="utf-8").splitlines()
    random.Random(0).shuffle(rows)
    (bar / "shelf.csv").write_text("\n".join([head, *rows]) + "\n", encoding="utf-8")
    assert said(command, bar) == first


def test_the_shelf_itself_is_listed_as_it_is_kept(tmp_path: Path) -> None:
    bar = tmp_path / "bar"
    shutil.copytree(DEMO, bar)
    head, *rows = (bar / "shelf.csv").read_text(encoding="utf-8").splitlines()
    (bar / "shelf.csv").write_text("\n".join([head, *reversed(rows)]) + "\n", encoding="utf-8")

    def keys(folder: Path) -> list[str]:
        table = said(("shelf",), folder).partition("\n\n")[0]
        return [line.split()[0] for line in table.splitlines()[2:]]

    assert keys(bar)[0] == rows[-1].partition(",")[0]
    assert sorted(keys(bar)) == sorted(keys(DEMO))
