"""A cost is one and the same, whoever asks: by the shelf, by the fruit, by the recipe."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import pytest
from click.testing import CliRunner, Result

from solver.api.questions import open_bar
from solver.cli.main import main
from solver.pantry.load_bar import load_bar
from solver.pantry.missing_prices import unpriced
from solver.pantry.unit_price import Priced
from solver.tasks.prep import prepare
from solver.tasks.price.house_recipe_costs import with_costs

FIGURES = """
kind = "syrup/plain"
abv = { pct = 0, basis = "definition", source = "none" }
sugar = { g_100ml = 60, basis = "estimate", source = "invented" }
acid = { g_100ml = 0, basis = "estimate", source = "invented" }
allergens = []
animal = []
"""
# 300 g of sugar at 0.002 and 300 g of water; then half of that, by weight, with honey
HOUSE = f"""
[plain]
name = "the plain one"{FIGURES}
[plain.recipe.inputs]
white-sugar = "300 g"
water = "300 g"

[deeper]
name = "the deeper one"{FIGURES}
[deeper.recipe.inputs]
plain = "300 g"
honey = "100 g"
"""
SPEC = """
name = "mine"
profile = "sour"
[[pours]]
ingredient = "gin"
amount = "60 ml"
[[pours]]
ingredient = "lime-juice"
amount = "22.5 ml"
[[pours]]
ingredient = "deeper"
amount = "22.5 ml"
"""
HEAD = "ingredient,bottle,price,on_hand,use_by\n"
SHELF = """gin,700 ml,21.00,2 bottles,
honey,700 ml,14.00,,
white-sugar,1000 g,2.00,,
whole-limes,1 piece,0.35,20 pieces,
deeper,,,500 ml,
"""


def bar_in(root: Path, shelf: str = SHELF) -> Path:
    for folder in ("house", "specs"):
        (root / folder).mkdir(exist_ok=True)
    head = 'name = "test"\ncurrency = "EUR"\ntoday = 2026-05-04\nshow = "ml"\n'
    (root / "bar.toml").write_text(f'{head}pour_set = "five-ml"\n', encoding="utf-8")
    (root / "shelf.csv").write_text(HEAD + shelf, encoding="utf-8")
    (root / "house" / "house.toml").write_text(HOUSE, encoding="utf-8")
    (root / "specs" / "mine.toml").write_text(SPEC, encoding="utf-8")
    return root


@pytest.fixture
def root(tmp_path: Path) -> Path:
    return bar_in(tmp_path)


def run(root: Path, *line: str) -> Result:
    return CliRunner().invoke(main, [*line, "--bar", str(root)])


def document(root: Path, *line: str) -> Any:
    result = run(root, *line, "--json")
    assert result.exit_code in (0, 1), result.output
    return json.loads(result.stdout)


def by_hand() -> dict[str, float]:
    """What one mL of each costs: 28 mL of a lime, of which 87 % are poured in time."""
    honey = 100 / 1.433 * 14 / 700  # g/mL as USDA FoodData Central has it
    return {"gin": 21 / 700, "lime-juice": 0.35 / (28 * 0.87), "deeper": 0.3 + honey}


def test_what_goes_in_is_paid_for_to_any_depth(root: Path) -> None:
    bar = with_costs(load_bar(root))
    row = bar.stocked("deeper")
    assert row is not None
    assert row.worked_out is not None
    assert row.worked_out.source is Priced.RECIPE
    batch = prepare(bar.recipes["deeper"], bar, bar.today)
    assert batch.cost is not None
    assert batch.cost == pytest.approx(by_hand()["deeper"], rel=2e-3)  # as stated, not as made
    assert row.price_per_unit == pytest.approx(batch.cost / batch.figures.volume_ml.value)


def test_every_command_tells_the_same_cost(root: Path) -> None:
    pours = document(root, "price", "mine")["drinks"][0]["pours"]
    cost = sum(pour["cost"] for pour in pours)
    assert [pour["priced_by"] for pour in pours] == ["shelf", "fruit", "recipe"]
    assert pours[1]["cost"] == pytest.approx(22.5 * by_hand()["lime-juice"])
    assert f"{cost:.2f} EUR" in run(root, "assess", "mine").stdout
    assert f"{cost:.2f}" in run(root, "specs", "--by", "cost").stdout
    assert "Cost not known" not in run(root, "batch", "mine", "--serves", "10").stdout
    asked = ("design", "sour", "--with", "deeper")
    found = run(root, *asked, "--cost", "<=3.20")
    assert found.exit_code == 0, found.output
    assert "at most 3.20" in found.stdout
    assert open_bar(root).stocked("deeper").price_per_unit is not None  # type: ignore[union-attr]


def test_fruit_that_has_no_price_costs_the_same_in_a_price_and_in_an_order(root: Path) -> None:
    bar_in(root, f"{SHELF}lemon-juice,1 l,9.00,,\n")
    spec = root / "specs" / "mine.toml"
    spec.write_text(f'technique = "shake"\ngarnish = "lemon wheel"\n{SPEC}', encoding="utf-8")
    (line,) = document(root, "price", "mine")["drinks"][0]["garnish"]
    ordered = document(root, "plan", "mine", "--drinks", "8")["order"]
    (lemon,) = (each for each in ordered if each["ingredient"] == "whole-lemons")
    assert lemon["cost"] == pytest.approx(8 * line["cost"], abs=0.005)
    assert lemon["cost"] == pytest.approx(45 * 0.87 * 0.009, abs=0.005)  # of one lemon, the juice
    assert line["priced_by"] == "juice"
    bar_in(root)
    spec.write_text(f'technique = "shake"\ngarnish = "lemon wheel"\n{SPEC}', encoding="utf-8")
    (line,) = document(root, "price", "mine")["drinks"][0]["garnish"]
    assert line["cost"] is line["priced_by"] is None


def test_what_is_missing_is_named_where_it_is_bought(root: Path) -> None:
    bar_in(root, SHELF.replace("honey,700 ml,14.00", "honey,700 ml,"))
    assert "no price of honey" in run(root, "price", "mine").stdout
    assert "not known: no price for honey\n" in run(root, "assess", "mine").stdout
    assert "no price for honey" in run(root, "batch", "mine", "--serves", "10").stdout
    refused = run(root, "design", "sour", "--cost", "<=3.20")
    assert "no price for honey:" in refused.stderr
    assert "or leave out deeper with --without" in refused.stderr


def test_what_a_wrong_recipe_makes_has_no_price_and_is_named_itself(root: Path) -> None:
    wrong = HOUSE.replace('honey = "100 g"', 'honey = "a lot"')
    (root / "house" / "house.toml").write_text(wrong, encoding="utf-8")
    bar = with_costs(load_bar(root))
    assert unpriced(bar, "deeper") == ("deeper",)
    assert run(root, "assess", "mine").exit_code == 0
    assert "a lot" in run(root, "prep", "deeper").stderr


def test_a_price_on_the_shelf_is_believed(root: Path) -> None:
    bar_in(root, SHELF.replace("deeper,,,", "deeper,500 ml,5.00,"))
    row = with_costs(load_bar(root)).stocked("deeper")
    assert row is not None
    assert row.price_per_unit == pytest.approx(0.01)


def test_a_bar_without_unpriced_recipes_is_left_as_it_is() -> None:
    bar = load_bar(Path(__file__).parents[2] / "demo")
    assert with_costs(bar) is bar
