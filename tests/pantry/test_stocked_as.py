"""What a name stands for on a shelf: counted fruit is fruit, measured fruit is its juice."""

from __future__ import annotations

from pathlib import Path

import pytest
from click.testing import CliRunner, Result

from solver.cli.main import main
from solver.pantry.library import load_library
from solver.pantry.load_bar import load_bar
from solver.pantry.stocked_as import stocked_as

LIBRARY = load_library()
PIECE_G = {"limes": 80.0, "lemons": 109.0, "oranges": 180.0}
"""USDA FoodData Central, from memory: see ingredients/raw.toml."""


@pytest.fixture
def root(tmp_path: Path) -> Path:
    (tmp_path / "bar.toml").write_text('name = "b"\ncurrency = "EUR"\n', encoding="utf-8")
    text = "ingredient,bottle,price,on_hand\nlemon-juice,1 l,,\nlime-juice,1 l,,\n"
    (tmp_path / "shelf.csv").write_text(text, encoding="utf-8")
    return tmp_path


def run(root: Path, *arguments: str) -> Result:
    return CliRunner().invoke(main, [*arguments, "--bar", str(root)])


@pytest.mark.parametrize(
    ("name", "amounts", "meant"),
    [
        ("limes", (), "whole-limes"),
        ("fresh limes", ("", "20"), "whole-limes"),
        ("lime", (), "lime-juice"),
        ("lime", ("", "20"), "whole-limes"),
        ("lime", ("each", ""), "whole-limes"),
        ("limes", ("1 l", "2"), "lime-juice"),
        ("lime juice", ("", "2"), "lime-juice"),
        ("lime-juice", ("12 pieces",), "whole-limes"),
        ("lime-juice", ("", "0"), "lime-juice"),
        ("eggs", ("", "12"), "whole-egg"),
        ("whole eggs", (), "whole-egg"),
        ("cranberry", ("", "12"), "cranberry-juice-cocktail"),
        ("gin", ("", "12"), "gin"),
        ("limes", ("1/0 oz",), "lime-juice"),
        ("coffee", ("2 lb", ""), "ground-coffee"),
        ("espresso", ("1 kg",), "ground-coffee"),
        ("black tea", ("100 g",), "black-tea-leaves"),
        ("coffee", ("1 l",), "brewed-coffee"),
        ("brewed coffee", ("2 lb",), "brewed-coffee"),
    ],
)
def test_counted_fruit_is_fruit_and_weighed_coffee_is_beans(
    name: str, amounts: tuple[str, ...], meant: str
) -> None:
    found = stocked_as(name, amounts, LIBRARY)
    assert found is not None
    assert found == LIBRARY.find(meant)


def test_add_import_and_stock_read_a_fruit_alike(root: Path) -> None:
    empty = (root / "shelf.csv").read_bytes()
    for name, grams in PIECE_G.items():
        listed = root / "list.csv"
        listed.write_text(f"name,size,price,qty\n{name},each,0.35,20\n", encoding="utf-8")
        for command in (
            ("shelf", "add", name, "--price", "0.35", "--on-hand", "20"),
            ("shelf", "import", str(listed)),
            ("stock", "in", f"20 {name}", "--price", "0.35"),
        ):
            (root / "shelf.csv").write_bytes(empty)
            done = run(root, *command)
            assert done.exit_code == 0, done.output
            row = next(row for row in load_bar(root).listed if row.ingredient.per == "g")
            assert row.ingredient.key == f"whole-{name}"
            assert (row.bottle, row.price, row.on_hand) == (grams, 0.35, 20 * grams)


@pytest.mark.parametrize("written", ["each", "1 piece", "1 pc", "ea", "Stück"])
def test_whatever_is_said_for_one_piece_is_a_size(written: str, root: Path) -> None:
    done = run(root, "shelf", "add", "eggs", "--size", written, "--on-hand", "12")
    assert "1 piece of 48.5 mL, 12 pieces on hand" in done.stdout
    row = next(row for row in load_bar(root).listed if row.ingredient.key == "whole-egg")
    assert (row.bottle, row.on_hand) == (48.5, 12 * 48.5)


def test_juice_of_fruit_on_the_shelf_is_poured(root: Path) -> None:
    text = "ingredient,bottle,price,on_hand\ngin,700 ml,,\nsimple-syrup,1 l,,\nlimes,each,0.35,"
    (root / "shelf.csv").write_text(f"{text}20 pieces\n", encoding="utf-8")
    done = run(root, "design", "sour")
    assert done.exit_code == 0
    assert "lime juice" in done.stdout
    (root / "shelf.csv").write_text(f"{text}0\n", encoding="utf-8")
    assert "lime-juice" not in {row.ingredient.key for row in load_bar(root).listed}


AVOIRDUPOIS_G = 28.349523125
"""Of one ounce, by definition: NIST Handbook 44, appendix C."""


@pytest.mark.parametrize(("size", "grams"), [("4 oz", 4 * AVOIRDUPOIS_G), ("1 lb", 453.59237)])
def test_what_is_weighed_comes_in_ounces_of_weight(size: str, grams: float, root: Path) -> None:
    assert run(root, "shelf", "add", "cinnamon", "--size", size).exit_code == 0
    listed = root / "list.csv"
    listed.write_text(f"name,size\nstar anise,{size}\n", encoding="utf-8")
    assert run(root, "shelf", "import", str(listed)).exit_code == 0
    sizes = {row.ingredient.key: row.bottle for row in load_bar(root).listed}
    assert sizes["cassia"] == pytest.approx(grams)
    assert sizes["star-anise"] == pytest.approx(grams)


@pytest.mark.parametrize("ounce_ml", ["30 ml", "28.4 ml"])
def test_an_ounce_of_weight_is_no_matter_of_the_bars_jigger(ounce_ml: str, root: Path) -> None:
    text = f'name = "b"\ncurrency = "EUR"\nounce = "{ounce_ml}"\n'
    (root / "bar.toml").write_text(text, encoding="utf-8")
    assert run(root, "shelf", "add", "cassia", "--size", "2 oz").exit_code == 0
    sizes = {row.ingredient.key: row.bottle for row in load_bar(root).listed}
    assert sizes["cassia"] == pytest.approx(2 * AVOIRDUPOIS_G)


@pytest.mark.parametrize(
    ("name", "size", "like"),
    [
        ("cassia", "4 fl oz", "59 g"),  # a heap of it is half as heavy as water
        ("white-sugar", "2 cups", "400 g or 14 oz"),
        ("cassia", "1 tsp", "2 g"),
        ("vodka", "each", "700 ml"),
    ],
)
def test_an_example_is_about_as_much_as_was_written(
    name: str, size: str, like: str, root: Path
) -> None:
    assert f"Write it like {like}." in run(root, "shelf", "add", name, "--size", size).stderr


def test_ounces_of_a_jar_are_of_weight_as_on_its_label_and_it_is_said(root: Path) -> None:
    """A jar of 16 oz of honey holds 453.6 g (21 CFR 101.7: viscous food by weight); USDA FoodData
    Central has honey at 1.42 to 1.434 g/mL: 316 to 320 mL, and not the 473 of fluid ounces.
    """
    said = run(root, "shelf", "add", "honey", "--size", "16 oz", "--price", "9").stdout
    assert "16 oz is taken as weight, as on a jar of it; by volume, write fl oz." in said
    row = load_bar(root).stocked("honey")
    assert row is not None
    assert row.bottle is not None
    assert 316 <= row.bottle <= 320
    fluid = run(root, "shelf", "set", "honey", "--size", "16 fl oz").stdout
    assert "473" in fluid
    assert "weight" not in fluid
    listed = root / "list.csv"
    listed.write_text("name,size,price\nagave,16 oz,9\nCoffee,2 lb,24\n", encoding="utf-8")
    told = run(root, "shelf", "import", str(listed)).stdout
    assert "(16 oz taken as weight; by volume: fl oz)" in told
    beans = load_bar(root).stocked("ground-coffee")
    assert beans is not None
    assert beans.bottle == pytest.approx(907.2, abs=0.1)


@pytest.mark.parametrize("bottle", ["1 dozen", "a dozen", "half a dozen", "2 dozen"])
def test_a_carton_of_a_shelf_is_read_by_the_dozen(bottle: str, root: Path) -> None:
    text = f"ingredient,bottle,price,on_hand\nwhole-egg,{bottle},2.90,1 carton\n"
    (root / "shelf.csv").write_text(text, encoding="utf-8")
    row = load_bar(root).stocked("whole-egg")
    assert row is not None
    assert row.bottle == row.on_hand == pytest.approx(48.5 * {"h": 6, "2": 24}.get(bottle[0], 12))
