"""A batch is poured as it was mixed, whatever its spec says now."""

from __future__ import annotations

import json
from pathlib import Path

import pytest
from click.testing import CliRunner, Result

from solver.cli.main import main
from solver.pantry.load_bar import load_bar
from solver.tasks.stock.sales import sold
from tests.stock.bars import sales

BAR = 'name = "Lee Shore"\ncurrency = "EUR"\ntoday = 2026-11-26\n'
SHELF = """ingredient,bottle,price,on_hand
rye-whiskey,700 ml,30,6 bottles
maraschino-liqueur,700 ml,24,3 bottles
dry-vermouth,750 ml,9,3 bottles
"""
DRINK = """name = "Weigh House"
technique = "stir"
pours = [
  {{ ingredient = "rye-whiskey", amount = "{rye} ml" }},
  {{ ingredient = "maraschino-liqueur", amount = "15 ml" }},
  {{ ingredient = "dry-vermouth", amount = "15 ml" }},
]
"""


def ask(bar: Path, *line: str) -> Result:
    return CliRunner().invoke(main, ["--bar", str(bar), *line])


@pytest.fixture
def bar(tmp_path: Path) -> Path:
    (tmp_path / "bar.toml").write_text(BAR, "utf-8")
    (tmp_path / "shelf.csv").write_text(SHELF, "utf-8")
    (tmp_path / "specs").mkdir()
    with_rye(tmp_path, 50)
    said = ask(tmp_path, "batch", "weigh-house", "--serves", "12", "--stock")
    assert said.exit_code == 0, said.stderr
    return tmp_path


def with_rye(bar: Path, rye: float) -> None:
    (bar / "specs" / "weigh-house.toml").write_text(DRINK.format(rye=rye), "utf-8")


def test_a_changed_spec_leaves_the_serves_of_a_batch_as_they_are(bar: Path) -> None:
    (before,) = sold(sales({"Weigh House": 5}), load_bar(bar)).batches
    assert not before.older
    with_rye(bar, 60)
    (after,) = sold(sales({"Weigh House": 5}), load_bar(bar)).batches
    assert after.older
    assert after.each_ml == pytest.approx(before.each_ml)
    (all_of_it,) = sold(sales({"Weigh House": 12}), load_bar(bar)).batches
    assert all_of_it.number == 12


def test_whoever_pours_it_is_told(bar: Path) -> None:
    (bar / "s.csv").write_text("Drink,Sold\nWeigh House,5\n", "utf-8")
    plan = ("plan", "--on", "2026-11-28", "--drinks", "14", "weigh-house=100%")
    assert "older recipe" not in ask(bar, *plan).stdout
    with_rye(bar, 60)
    said = ask(bar, *plan)
    assert "14 Weigh House (12 from the batch)" in said.stdout
    assert "Weigh House batch was mixed by an older recipe" in said.stdout
    planned = json.loads(ask(bar, *plan, "--json").stdout)
    assert planned["older_batches"] == ["weigh-house-batch"]
    took = ask(bar, "stock", "sold", str(bar / "s.csv"))
    assert "mixed by an older recipe." in took.stdout


def test_what_is_missing_of_a_batch_is_mixed_as_the_spec_says_now(bar: Path) -> None:
    with_rye(bar, 60)
    poured = sold(sales({"Weigh House": 14}), load_bar(bar)).poured
    assert poured["rye-whiskey"] == pytest.approx(2 * 60)


NUTTY = """name = "Weigh House"
technique = "stir"
pours = [
  { ingredient = "rye-whiskey", amount = "60 ml" },
  { ingredient = "amaretto", amount = "15 ml" },
  { ingredient = "dry-vermouth", amount = "15 ml" },
]
"""


@pytest.fixture
def nutty(bar: Path) -> Path:
    """A bar with a batch with almonds, whose spec has none any more."""
    shelf = (bar / "shelf.csv").read_text("utf-8")
    (bar / "shelf.csv").write_text(shelf + "amaretto,700 ml,20,2 bottles\n", "utf-8")
    assert ask(bar, "stock", "count", "weigh-house-batch", "0").exit_code == 0
    (bar / "specs" / "weigh-house.toml").write_text(NUTTY, "utf-8")
    said = ask(bar, "batch", "weigh-house", "--serves", "12", "--stock", "--again")
    assert said.exit_code == 0, said.stderr
    with_rye(bar, 60)
    return bar


def test_a_batch_that_contains_what_its_spec_does_not_is_not_poured_in_a_plan(nutty: Path) -> None:
    plan = ("plan", "--on", "2026-11-28", "--drinks", "4", "weigh-house=100%")
    said = ask(nutty, *plan).stdout
    assert "from the batch" not in said
    assert "Weigh House batch contains amaretto" in said
    fields = json.loads(ask(nutty, *plan, "--json").stdout)
    assert fields["batches_set_aside"] == ["weigh-house-batch"]
    assert fields["nights"][0]["drinks"][0]["from_batch"] == 0


def test_nor_is_it_in_what_was_sold(nutty: Path) -> None:
    (nutty / "s.csv").write_text("Drink,Sold\nWeigh House,5\n", "utf-8")
    (batch,) = sold(sales({"Weigh House": 5}), load_bar(nutty)).batches
    assert batch.number == 0
    poured = sold(sales({"Weigh House": 5}), load_bar(nutty)).poured
    assert poured["rye-whiskey"] == pytest.approx(300)
    assert "weigh-house-batch" not in poured
    said = ask(nutty, "stock", "sold", str(nutty / "s.csv")).stdout
    assert "Weigh House batch contains amaretto" in said
    assert "taken from bottles" in said


def test_no_batch_by_another_recipe_comes_beside_it(nutty: Path) -> None:
    said = ask(nutty, "batch", "weigh-house", "--serves", "2", "--stock", "--again")
    assert said.exit_code == 2
    assert "weigh-house-batch by another recipe is on the shelf" in said.stderr
    assert ask(nutty, "stock", "count", "weigh-house-batch", "0").exit_code == 0
    assert ask(nutty, "batch", "weigh-house", "--serves", "2", "--stock", "--again").exit_code == 0


def test_a_batch_stronger_than_its_spec_is_not_poured(bar: Path) -> None:
    with_rye(bar, 20)
    (batch,) = sold(sales({"Weigh House": 5}), load_bar(bar)).batches
    assert batch.number == 0
    plan = ("plan", "--on", "2026-11-28", "--drinks", "4", "weigh-house=100%")
    assert "Weigh House batch is stronger than Weigh House is now" in ask(bar, *plan).stdout


def test_a_batch_of_a_syrup_that_had_nuts_is_not_poured(bar: Path) -> None:
    house = bar / "house" / "weigh-house-batch.toml"
    house.write_text(
        house.read_text("utf-8").replace("allergens = [", 'allergens = ["nuts", '), "utf-8"
    )
    (batch,) = sold(sales({"Weigh House": 5}), load_bar(bar)).batches
    assert batch.number == 0
    assert batch.another is not None
    assert "nuts" in batch.another.gone
