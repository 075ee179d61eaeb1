"""Bottles put onto the shelf, changed and taken off, by people who do not open files."""

from __future__ import annotations

import json
import shutil
from pathlib import Path

import pytest
from click.testing import CliRunner, Result
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from solver.cli.main import main
from solver.pantry.library import load_library
from solver.pantry.load_bar import load_bar

DEMO = Path(__file__).parents[2] / "demo"


@pytest.fixture
def bar(tmp_path: Path) -> Path:
    shutil.copytree(DEMO, tmp_path / "bar")
    return tmp_path / "bar"


def run(bar: Path, *arguments: str) -> Result:
    return CliRunner().invoke(main, ["shelf", *arguments, "--bar", str(bar)])


def written(bar: Path, text: str, encoding: str = "utf-8") -> Path:
    (bar / "shelf.csv").write_bytes(text.encode(encoding))
    return bar


def test_a_bottle_is_added_by_any_of_its_names(bar: Path) -> None:
    written(bar, "ingredient,bottle,price,on_hand\n")
    result = run(bar, "add", "Rye", "--size", "700ml", "--price", "28", "--on-hand", "1.5")
    assert result.stdout == "added: rye-whiskey, 700 mL, 28.00 EUR, 1050 mL on hand\n"
    assert "equipour: written: " in result.stderr
    text = (bar / "shelf.csv").read_text(encoding="utf-8")
    assert text == "ingredient,bottle,price,on_hand\nrye-whiskey,700ml,28,1.5 bottles\n"


@pytest.mark.parametrize(
    ("before", "after"),
    [
        (
            '\ufeff"my place";ingredient;price\r\n"shelf; left";Gin;"21,50"\r\n',
            '\ufeff"my place";"ingredient";"price";"bottle"\r\n'
            '"shelf; left";Gin;"21,50"\r\n"";"rye-whiskey";"28";"70cl"\r\n',
        ),
        (
            "bottle\tingredient\tprice\n700 ml\tgin\t\n",
            "bottle\tingredient\tprice\n700 ml\tgin\t\n70cl\trye-whiskey\t28\n",
        ),
        (
            "ingredient,bottle\nGin , 700 ml\n\n",
            "ingredient,bottle,price\nGin , 700 ml\n\nrye-whiskey,70cl,28\n",
        ),
        ("ingredient,price,bottle", "ingredient,price,bottle\nrye-whiskey,28,70cl\n"),
    ],
)
def test_everything_else_of_the_file_stays_as_it_was(bar: Path, before: str, after: str) -> None:
    written(bar, before)
    result = run(bar, "add", "rye", "--size", "70cl", "--price", "28")
    assert result.exit_code == 0, result.output
    assert (bar / "shelf.csv").read_bytes().decode() == after


@settings(suppress_health_check=[HealthCheck.function_scoped_fixture], max_examples=12)
@given(
    key=st.sampled_from([item.key for item in load_library() if item.per == "ml"]),
    size=st.integers(1, 2000),
    cents=st.integers(0, 100_000),
)
def test_what_was_added_and_removed_again_leaves_no_trace(
    bar: Path, key: str, size: int, cents: int
) -> None:
    written(bar, "ingredient,bottle,price,own column\nsalt,1 kg,2,x\n")
    before = (bar / "shelf.csv").read_bytes()
    if key == "salt":
        return
    price = f"{cents / 100:.2f}"
    assert run(bar, "add", key, "--size", f"{size} ml", "--price", price).exit_code == 0
    row = load_bar(bar).stocked(key)
    assert row is not None
    assert row.bottle == pytest.approx(size)
    assert row.price == pytest.approx(cents / 100)
    assert run(bar, "remove", key).exit_code == 0
    assert (bar / "shelf.csv").read_bytes() == before


def test_a_bottle_is_changed_and_a_cell_emptied(bar: Path) -> None:
    result = run(bar, "set", "gin", "--price", "23", "--on-hand", "")
    assert result.stdout == "changed: gin, 700 mL, 23.00 EUR\n"
    (line,) = (x for x in (bar / "shelf.csv").read_text("utf-8").splitlines() if x[:4] == "gin,")
    assert line == "gin,700 ml,23,,,,invented price and stock"


def test_a_strength_takes_its_place_among_what_is_said_otherwise(bar: Path) -> None:
    written(bar, "ingredient,overrides\ngin,sugar=1 g/100ml\n")
    assert run(bar, "set", "gin", "--abv", "45%").stdout == "changed: gin, 45 % vol\n"
    assert run(bar, "add", "rye", "--abv", "51 %").stdout == "added: rye-whiskey, 51 % vol\n"
    text = (bar / "shelf.csv").read_text(encoding="utf-8")
    assert "gin,abv=45%; sugar=1 g/100ml\n" in text
    run(bar, "set", "gin", "--abv", "")
    assert "gin,sugar=1 g/100ml\n" in (bar / "shelf.csv").read_text(encoding="utf-8")
    assert run(bar, "set", "gin", "--abv", "strong").exit_code == 2


def test_a_bar_without_a_shelf_gets_one(bar: Path) -> None:
    (bar / "shelf.csv").unlink()
    assert run(bar, "add", "gin", "--use-by", "2030-01-31").exit_code == 0
    text = (bar / "shelf.csv").read_text(encoding="utf-8")
    head = "ingredient,label,bottle,price,on_hand,opened,use_by,newer,case,supplier,"
    assert text.startswith(head)
    assert "gin,,,,,,2030-01-31,," in text


@pytest.mark.parametrize(
    ("arguments", "said"),
    [
        (("add", "whiskey"), "Did you mean blended-scotch or irish-whiskey or bourbon?"),
        (("add", "gin"), "gin is on the shelf already"),
        (("add", "gin"), "`equipour shelf set gin`"),
        (("add", "pisco", "--price", "cheap"), "price: "),
        (("add", "pisco", "--size", "700"), "Write it like 700 ml or 1 kg."),
        (("add", "pisco", "--on-hand", "2"), "counts bottles of unknown size"),
        (("set", "pisco", "--price", "2"), "Add it with `equipour shelf add pisco`."),
        (("set", "gin"), "say what to change"),
        (("set", "gin", "--opened", "2027-01-01"), "the day 2027-01-01 is still to come"),
        (("add", "pisco", "--opened", "2027-01-01"), "the day 2027-01-01 is still to come"),
        (("remove", "pisco"), "pisco is not on the shelf"),
        (("remove", "moonshot"), "not an ingredient known here"),
        (("--json", "add", "pisco"), "--json and --csv come after"),
        (("ad", "pisco"), "no such command 'ad'"),
    ],
)
def test_a_slip_is_said_and_nothing_is_written(
    bar: Path, arguments: tuple[str, ...], said: str
) -> None:
    before = (bar / "shelf.csv").read_bytes()
    result = CliRunner().invoke(main, ["--bar", str(bar), "shelf", *arguments])
    assert result.exit_code == 2
    assert said in result.stderr
    assert "line" not in result.stderr or "already" in result.stderr
    assert (bar / "shelf.csv").read_bytes() == before


def test_what_has_only_a_recipe_is_told_how_it_gets_there(bar: Path) -> None:
    (bar / "house" / "new.toml").write_text(
        '[thyme-syrup]\nname = "thyme syrup"\nkind = "syrup/spice"\n'
        'recipe.inputs = { white-sugar = "1 kg", water = "1 kg" }\n',
        encoding="utf-8",
    )
    result = run(bar, "add", "thyme syrup")
    assert result.exit_code == 2
    assert "`equipour prep thyme-syrup --stock` puts it onto the shelf." in result.stderr


def test_without_a_bar_it_is_said_how_to_make_one(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(tmp_path)
    monkeypatch.delenv("EQUIPOUR_BAR", raising=False)
    for line in (["add", "gin"], ["set", "gin", "--price", "2"], ["remove", "gin"]):
        result = CliRunner().invoke(main, ["shelf", *line])
        assert result.exit_code == 2
        assert "Make one with `equipour init`" in result.stderr


def test_a_row_is_a_document_too(bar: Path) -> None:
    document = json.loads(run(bar, "add", "pisco", "--size", "0.7 l", "--json").stdout)
    assert document["format"] == 1
    assert document["done"] == "added"
    assert document["bottle"]["ingredient"] == "pisco"
    assert document["bottle"]["bottle_ml"] == pytest.approx(700)


@pytest.mark.parametrize("place", ["group", "command"])
def test_the_bar_is_named_anywhere(bar: Path, place: str) -> None:
    named = ["--bar", str(bar)]
    line = ["shelf", *named, "add", "pisco"] if place == "group" else ["shelf", "add", "pisco"]
    result = CliRunner().invoke(main, line if place == "group" else [*line, *named])
    assert result.exit_code == 0, result.output
    assert load_bar(bar).stocked("pisco")


def test_what_is_counted_has_the_size_of_what_it_weighs(bar: Path) -> None:
    written(bar, "ingredient,bottle,price,on_hand\n")
    result = run(bar, "add", "cinnamon", "--size", "3 sticks", "--on-hand", "2 sticks")
    assert result.exit_code == 0, result.stderr
    row = load_bar(bar).stocked("cassia")
    assert row is not None
    assert row.bottle == pytest.approx(9)  # a stick is 3 g in ingredients/yields
    assert row.on_hand == pytest.approx(6)
    assert run(bar, "add", "mint", "--size", "1 bunch").exit_code == 0
    assert run(bar, "add", "gin", "--size", "3 sticks").exit_code == 2


def test_a_bottle_like_another_is_bought_and_not_made_here(bar: Path) -> None:
    result = run(bar, "add", "harbour orgeat", "--like", "orgeat", "--size", "70cl", "--price", "9")
    assert result.exit_code == 0, result.stderr
    opened = load_bar(bar)
    item = opened.library.find("harbour orgeat")
    assert item.bought
    assert item.made_of
    assert item.key not in opened.house
    assert run(bar, "remove", "harbour orgeat").exit_code == 0
    assert load_bar(bar).stocked(item.key) is None
