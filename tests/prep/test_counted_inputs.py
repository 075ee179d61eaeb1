"""What a recipe counts: sticks, pods, sprigs, a thumb of ginger, whole fruit and eggs."""

from __future__ import annotations

from pathlib import Path

import pytest

from solver.errors import BadInput
from solver.pantry.bar import Bar
from solver.pantry.load_bar import load_bar
from solver.tasks.prep.prepare import find_recipe, prepare

STEPS = '[[s.recipe.steps]]\ndo = "steep"\ntime = "20 min"\n'


def bar_with(root: Path, name: str, amount: str) -> Bar:
    house = root / "house"
    house.mkdir()
    (root / "bar.toml").write_text('name = "b"\n', encoding="utf-8")
    (house / "s.toml").write_text(
        '[s]\nname = "winter syrup"\nkind = "syrup/spice"\n[s.recipe.inputs]\n'
        f'white-sugar = "500 g"\nwater = "500 g"\n{name} = "{amount}"\n{STEPS}',
        encoding="utf-8",
    )
    return load_bar(root)


@pytest.mark.parametrize(
    ("name", "amount", "key", "grams", "source"),
    [
        ("cinnamon", "3 sticks", "cassia", 9, "common practice, no source"),
        ("cinnamon", "3 pieces", "cassia", 9, "common practice, no source"),
        ("vanilla-pod", "1 bean", "vanilla-pod", 3.5, "from memory"),
        ("star-anise", "2 pieces", "star-anise", 2, "common practice, no source"),
        ("star-anise", "2 stars", "star-anise", 2, "common practice, no source"),
        ("mint-leaves", "4 sprigs", "mint-leaves", 4, "common practice, no source"),
        ("rosemary-sprigs", "2 sprigs", "rosemary-sprigs", 2, "common practice, no source"),
        ("ginger-root", "1 thumb", "ginger-root", 25, "common practice, no source"),
        ("garlic", "2 cloves", "garlic", 6, "USDA"),
        ("lemons", "2 pieces", "whole-lemons", 218, "USDA"),
        ("lime", "3 pieces", "whole-limes", 240, "USDA"),
    ],
)
def test_pieces_have_a_weight_with_its_source(
    name: str, amount: str, key: str, grams: float, source: str, tmp_path: Path
) -> None:
    bar = bar_with(tmp_path, name, amount)
    prep = prepare(find_recipe("s", bar), bar, bar.today)
    put = next(put for put in prep.puts if put.written == amount)
    assert put.key == key
    assert put.grams == pytest.approx(grams)
    assert put.grams_sd > 0.05 * grams  # nobody weighed it
    assert source in put.assumed


def test_an_egg_weighs_what_its_shell_holds(tmp_path: Path) -> None:
    bar = bar_with(tmp_path, "eggs", "2 pieces")
    put = next(p for p in prepare(find_recipe("s", bar), bar, bar.today).puts if "egg" in p.key)
    # USDA FoodData Central: 50 g from a large egg
    assert put.grams == pytest.approx(100, rel=0.01)


def test_ounces_of_what_is_weighed_are_of_weight_and_said_so(tmp_path: Path) -> None:
    bar = bar_with(tmp_path, "demerara-sugar", "4 oz")
    prep = prepare(find_recipe("s", bar), bar, bar.today)
    put = next(put for put in prep.puts if put.written == "4 oz")
    assert put.grams == pytest.approx(4 * 28.349523125)  # NIST Handbook 44, appendix C
    assert "ounces of weight, 113 g" in put.assumed


def test_what_nobody_has_weighed_says_so(tmp_path: Path) -> None:
    bar = bar_with(tmp_path, "hibiscus-flowers", "3 pods")
    with pytest.raises(BadInput, match="cannot be turned into a weight"):
        prepare(find_recipe("s", bar), bar, bar.today)
