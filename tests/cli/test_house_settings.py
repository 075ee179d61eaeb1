"""What a bar sets in bar.toml holds in every command."""

import json
import re
import shutil
from pathlib import Path

import pytest
from click.testing import CliRunner

from solver.cli.main import main

DEMO = Path(__file__).parents[2] / "demo"


def bar_with(folder: Path, old: str, new: str) -> str:
    """A copy of the demo bar with one change in its settings; its path."""
    root = folder / "bar"
    shutil.copytree(DEMO, root)
    settings = root / "bar.toml"
    text = settings.read_text(encoding="utf-8")
    assert old in text
    settings.write_text(text.replace(old, new), encoding="utf-8")
    return str(root)


def final_volume(bar: str) -> float:
    arguments = ["assess", "2 oz rye", "1 oz sweet vermouth", "--technique", "shake", "--bar", bar]
    output = CliRunner().invoke(main, arguments).output
    return float(next(line for line in output.splitlines() if "volume" in line).split()[2])


def test_a_melt_factor_waters_the_drink_by_so_much_more(tmp_path: Path) -> None:
    more = bar_with(tmp_path, "[melt.stir]", "[melt.shake]\nfactor = 1.5\n\n[melt.stir]")
    poured_ml = 90
    usual, watered = final_volume(str(DEMO)), final_volume(more)
    assert watered - poured_ml == pytest.approx(1.5 * (usual - poured_ml), abs=2)


def test_a_bar_that_thinks_in_millilitres_reads_millilitres(tmp_path: Path) -> None:
    metric = bar_with(tmp_path, 'show = "oz"', 'show = "ml"')
    arguments = ["design", "highball", "--bar", metric]
    output = CliRunner().invoke(main, arguments).output
    assert " mL  " in output
    assert " oz " not in output


def test_the_document_says_amounts_in_the_bar_s_own_measures(tmp_path: Path) -> None:
    metric = bar_with(tmp_path, 'show = "oz"', 'show = "ml"')
    arguments = ["design", "highball", "--bar", metric, "--json"]
    pours = json.loads(CliRunner().invoke(main, arguments).output)["answer"]["pours"]
    jigger = [pour for pour in pours if pour["amount"].endswith(" mL")]
    assert jigger
    for pour in jigger:
        assert float(pour["amount"].removesuffix(" mL")) == pytest.approx(pour["ml"], abs=0.06)


IN_EVERY_UNIT = [
    ("design", "highball", "--cost", "<=1.80", "--why"),
    ("check", "bollard-sour", "--with", "rye-whiskey", "--standard-drinks", "<=1"),
    ("assess", "harbour-light", "--profile", "frozen"),
    ("profiles", "sour"),
    ("swap", "rope-store", "bourbon"),
    ("rebalance", "--out-of", "bourbon"),
    ("tradeoff", "highball", "--points", "4"),
    ("prep", "rhubarb-syrup"),
]


@pytest.mark.parametrize("command", IN_EVERY_UNIT, ids=lambda command: command[0])
def test_a_bar_that_thinks_in_millilitres_reads_no_ounces_anywhere(
    command: tuple[str, ...], tmp_path: Path
) -> None:
    metric = bar_with(tmp_path, 'show = "oz"', 'show = "ml"')
    output = CliRunner().invoke(main, [*command, "--bar", metric]).output
    assert re.search(r"\d mL\b", output)
    assert not re.search(r"\boz\b", output)
    assert not re.search(r"\d ml\b", output)


def test_without_a_word_on_it_amounts_are_shown_as_the_jiggers_are_marked(tmp_path: Path) -> None:
    metric = bar_with(tmp_path, 'pour_set = "quarter-ounce"', 'pour_set = "five-ml"')
    settings = Path(metric) / "bar.toml"
    settings.write_text(settings.read_text(encoding="utf-8").replace('show = "oz"\n', ""))
    output = CliRunner().invoke(main, ["design", "highball", "--bar", metric]).output
    assert " oz " not in output


def test_a_bar_spoon_is_poured_where_it_is_asked_for() -> None:
    wish = ["design", "stirred", "--with", "maraschino-liqueur=1 bar spoon", "--bar", str(DEMO)]
    output = CliRunner().invoke(main, wish).output
    assert "1 bar spoon  maraschino liqueur" in output
