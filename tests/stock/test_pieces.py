"""What is counted as fruit or eggs and as what they give is one stock: ordered, priced, planned and
taken off once."""

from __future__ import annotations

import json
from collections.abc import Mapping
from pathlib import Path
from typing import Any

import pytest
from click.testing import CliRunner, Result
from hypothesis import given
from hypothesis import strategies as st

from solver.cli.main import main
from solver.pantry.fruit import egg_by_part, fruit_by_juice
from solver.pantry.library import load_library
from solver.pantry.load_bar import load_bar
from solver.pantry.same_egg import in_eggs_of_other, whole_eggs
from solver.pantry.stocked import Stocked
from solver.tasks.stock.sales import sold
from tests.stock.bars import sales

LIBRARY = load_library()
EGGS = egg_by_part(LIBRARY)
LIMES = fruit_by_juice(LIBRARY)["lime-juice"]
BAR = 'name = "Lee Shore"\ncurrency = "EUR"\ntoday = 2026-11-26\n'
SHELF = """ingredient,bottle,price,on_hand,opened
gin,700 ml,21,6 bottles,
simple-syrup,1 l,2,2 l,
whole-egg,10 pieces,3.00,{eggs} pieces,
whole-limes,1 piece,0.30,{limes} pieces,
{more}
"""
POURS = {
    "white": 'egg-white", amount = "1 piece',
    "yolk": 'egg-yolk", amount = "1 piece',
    "sharp": 'lime-juice", amount = "25 ml',
}


def ask(bar: Path, *line: str) -> Result:
    return CliRunner().invoke(main, ["--bar", str(bar), *line])


def document(bar: Path, *line: str) -> Any:
    said = ask(bar, *line, "--json")
    assert said.exit_code == 0, said.stderr
    return json.loads(said.stdout)


def with_stock(bar: Path, eggs: int = 10, limes: int = 20, more: str = "") -> None:
    text = SHELF.format(eggs=eggs, limes=limes, more=more)
    (bar / "shelf.csv").write_text(text, "utf-8")


@pytest.fixture
def bar(tmp_path: Path) -> Path:
    (tmp_path / "bar.toml").write_text(BAR, "utf-8")
    with_stock(tmp_path)
    (tmp_path / "specs").mkdir()
    drinks = {"white": ["white"], "sharp": ["sharp"], "both": ["white", "yolk"]}
    for name, parts in drinks.items():
        lines = "\n".join(f'  {{ ingredient = "{POURS[part]}" }},' for part in parts)
        (tmp_path / "specs" / f"{name}.toml").write_text(
            f'name = "{name}"\ntechnique = "shake-egg"\npours = [\n'
            f'  {{ ingredient = "gin", amount = "50 ml" }},\n{lines}\n]\n',
            "utf-8",
        )
    return tmp_path


def pieces(bar: Path, drink: str, number: float) -> Mapping[str, float]:
    """What sales of a drink take, in pieces of what has any; what has none in mL."""
    poured = sold(sales({drink: number}), load_bar(bar)).poured
    return {
        key: amount / (size.value if (size := LIBRARY.find(key).piece) else 1.0)
        for key, amount in poured.items()
    }


def test_a_drink_of_white_and_yolk_takes_and_costs_one_egg(bar: Path) -> None:
    planned = document(bar, "plan", "--on", "2026-11-27", "--drinks", "10", "both=100%")
    assert planned["order"] == []
    assert "separate" not in ask(bar, "plan", "--on", "2026-11-27", "--drinks", "9", "both").stdout
    assert pieces(bar, "both", 10)["whole-egg"] == pytest.approx(10)
    pours = {
        line["ingredient"]: line["cost"]
        for line in document(bar, "price", "both")["drinks"][0]["pours"]
    }
    assert pours["egg-white"] + pours["egg-yolk"] == pytest.approx(0.30)
    assert "of the same eggs" in ask(bar, "price", "both").stdout
    assessed = document(bar, "assess", "both")["answer"]["pours"]
    assert sum(line["cost"] for line in assessed) == pytest.approx(50 * 21 / 700 + 0.30)


def test_an_eleventh_egg_is_ordered_for_an_eleventh_drink(bar: Path) -> None:
    planned = document(bar, "plan", "--on", "2026-11-27", "--drinks", "11", "both=100%")
    assert [(each["ingredient"], each["units"]) for each in planned["order"]] == [("whole-egg", 1)]


def test_whites_in_a_bottle_are_poured_before_eggs_are_separated(bar: Path) -> None:
    white = EGGS["egg-white"].juice.value
    with_stock(bar, eggs=10, more=f"egg-white,,,{3 * white:.1f} ml,")
    taken = pieces(bar, "white", 8)
    assert taken["egg-white"] == pytest.approx(3, abs=0.01)
    assert taken["whole-egg"] == pytest.approx(5)
    planned = document(bar, "plan", "--on", "2026-11-27", "--drinks", "13", "white=100%")
    assert planned["order"] == []
    one_more = document(bar, "plan", "--on", "2026-11-27", "--drinks", "14", "white=100%")
    assert [each["ingredient"] for each in one_more["order"]] == ["whole-egg"]


def test_whites_that_are_bought_by_the_bottle_are_ordered_so(bar: Path) -> None:
    with_stock(bar, eggs=10, more="egg-white,1 l,9.00,100 ml,")
    planned = document(bar, "plan", "--on", "2026-11-27", "--drinks", "13", "white=100%")
    assert [each["ingredient"] for each in planned["order"]] == ["egg-white"]


def test_juice_that_is_there_is_poured_and_the_rest_is_pressed(bar: Path) -> None:
    with_stock(bar, limes=3, more="lime-juice,1 l,,100 ml,2026-11-26")
    taken = sold(sales({"sharp": 6}), load_bar(bar))
    assert taken.poured["lime-juice"] == pytest.approx(100)
    assert taken.poured["whole-limes"] == pytest.approx(3 * LIMES.weight.value)
    assert taken.pressed == ("lime-juice",)
    assert taken.ran_out == ()
    csv = bar / "sold.csv"
    csv.write_text("Drink,Sold\nsharp,6\n", "utf-8")
    said = ask(bar, "stock", "sold", str(csv))
    assert "Beyond what was counted, taken as whole fruit or eggs: lime-juice." in said.stdout


def test_more_than_both_have_is_refused_by_the_fruit(bar: Path) -> None:
    with_stock(bar, limes=2, more="lime-juice,1 l,,100 ml,2026-11-26")
    csv = bar / "sold.csv"
    csv.write_text("Drink,Sold\nsharp,8\n", "utf-8")
    said = ask(bar, "stock", "sold", str(csv))
    assert said.exit_code == 2
    assert "whole-limes" in said.stderr
    with_stock(bar, limes=0, more="lime-juice,1 l,,100 ml,2026-11-26")
    assert "lime-juice (200 mL poured, 100 there)" in ask(bar, "stock", "sold", str(csv)).stderr


def test_serves_are_counted_of_juice_and_fruit_together(bar: Path) -> None:
    with_stock(bar, limes=10, more="lime-juice,1 l,,20 ml,2026-11-26")
    row = load_bar(bar).stocked("lime-juice")
    assert row is not None
    assert row.on_hand == pytest.approx(20)
    assert row.has(20 + 240)
    assert not row.has(20 + 250)


@given(st.floats(0.1, 5), st.floats(0.1, 5))
def test_no_egg_is_counted_for_white_and_yolk_apart(whites: float, yolks: float) -> None:
    def rows(key: str) -> Stocked | None:
        return Stocked(LIBRARY.find(key), fruit=EGGS[key]) if key in EGGS else None

    amounts = {
        "egg-white": whites * EGGS["egg-white"].juice.value,
        "egg-yolk": yolks * EGGS["egg-yolk"].juice.value,
    }
    found = whole_eggs(amounts, rows)
    separated = sum(EGGS[key].pieces(found[key]) for key in EGGS if key in found)
    whole = found["whole-egg"] / EGGS["egg-white"].weight.value
    assert separated + whole == pytest.approx(max(whites, yolks))
    fewer = in_eggs_of_other(amounts, rows)
    assert fewer is not None
    assert EGGS[fewer].pieces(amounts[fewer]) == pytest.approx(min(whites, yolks))
    assert in_eggs_of_other({"egg-white": 30.0}, rows) is None


@pytest.mark.parametrize(
    ("words", "eggs"),
    [
        ("1 carton", 10), ("2 cartons", 20), ("6 eggs", 6), ("2 dozen", 24), ("1/2 dozen", 6),
        ("a dozen eggs", 12), ("half a dozen", 6), ("an egg", 1), ("two eggs", 2),
        ("1 box", 10), ("1 Karton", 10), ("12 pieces", 12), ("7", 7),
    ],
)  # fmt: skip
def test_eggs_are_counted_as_they_are_bought(bar: Path, words: str, eggs: int) -> None:
    said = ask(bar, "stock", "in", "whole-egg", *words.split())
    assert said.exit_code == 0, said.stderr
    assert f"10 pieces to {10 + eggs} pieces" in said.stdout


def test_limes_come_by_the_dozen_and_sugar_by_the_bag(bar: Path) -> None:
    with_stock(bar, more="white-sugar,1 kg,1.50,2 bottles,")
    assert "20 pieces to 44 pieces" in ask(bar, "stock", "in", "2 dozen limes").stdout
    assert "44 pieces to 50" in ask(bar, "stock", "in", "half", "a", "dozen", "limes").stdout
    assert "2 bottles to 5 bottles" in ask(bar, "stock", "in", "white-sugar", "3 bags").stdout


def test_the_amount_may_come_first_in_words(bar: Path) -> None:
    assert "10 pieces to 22 pieces" in ask(bar, "stock", "in", *["a", "dozen", "eggs"]).stdout
    assert "22 pieces to 34 pieces" in ask(bar, "stock", "in", "a dozen of eggs").stdout
    said = ask(bar, "stock", "in", *["half", "and", "half", "a", "dozen"])
    assert said.exit_code == 2
    assert "'half' is not an ingredient known here" in said.stderr


@pytest.mark.parametrize("words", [("",), ("", "2 bottles"), (" ",)])
def test_an_amount_of_nothing_is_a_mistake(bar: Path, words: tuple[str, ...]) -> None:
    said = ask(bar, "stock", "count", *words)
    assert said.exit_code == 2
    assert said.stderr


@pytest.mark.parametrize("words", ["gin 2 cartons", "gin 2 bags", "whole-limes 1 box"])
def test_a_carton_of_unknown_size_is_refused(bar: Path, words: str) -> None:
    before = (bar / "shelf.csv").read_bytes()
    assert ask(bar, "stock", "in", *words.split()).exit_code == 2
    assert (bar / "shelf.csv").read_bytes() == before


def test_new_eggs_stand_on_the_shelf_by_the_piece(bar: Path) -> None:
    text = (bar / "shelf.csv").read_text("utf-8")
    lines = [line for line in text.splitlines() if "whole-egg" not in line]
    (bar / "shelf.csv").write_text("\n".join(lines), "utf-8")
    said = ask(bar, "stock", "in", "eggs", "2", "cartons", "--bottle", "10 pieces", "--price", "3")
    assert "on hand not counted to 20 pieces" in said.stdout
    row = next(each for each in ask(bar, "shelf").stdout.splitlines() if "whole-egg" in each)
    assert "20 pieces" in row
