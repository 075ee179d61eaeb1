"""Labels: the bar's own names for what is on its shelf."""

from __future__ import annotations

from pathlib import Path

import pytest
from click.testing import CliRunner, Result

from solver.cli.main import main
from solver.errors import BadInput
from solver.harmony.counted import load_counts
from solver.harmony.flavours import flavours_of
from solver.pantry.library import load_library
from solver.pantry.load_bar import load_bar
from solver.pantry.own_figures import with_own_figures
from solver.requests.bar_taste import taste_of

SHELF = (
    "ingredient,label,bottle,price,overrides\n"
    "sweet-vermouth,Vermouth rosso,750 ml,9.50,\n"
    "overproof-rum,Jamaica rum (overproof),700 ml,31,abv=60%\n"
    "lime-juice,,1 l,6,\nsimple-syrup,,1 l,2,\ngin,,700 ml,22,\n"
)


@pytest.fixture
def bar(tmp_path: Path) -> Path:
    (tmp_path / "bar.toml").write_text('name = "b"\ncurrency = "EUR"\n', encoding="utf-8")
    (tmp_path / "shelf.csv").write_text(SHELF, encoding="utf-8")
    return tmp_path


def run(bar: Path, *arguments: str) -> Result:
    return CliRunner().invoke(main, [*arguments, "--bar", str(bar)])


def test_a_label_finds_its_bottle_as_its_key_name_and_aliases_do(bar: Path) -> None:
    loaded = load_bar(bar)
    for name in ("vermouth ROSSO", "sweet-vermouth", "sweet vermouth"):
        assert loaded.library.find(name).key == "sweet-vermouth"
        assert loaded.bottles.find(name).key == "sweet-vermouth"
    assert loaded.bottles.find("Jamaica rum (overproof)").abv.value == 60


def test_drinks_are_asked_for_and_told_by_labels(bar: Path) -> None:
    result = run(bar, "assess", "3 cl Vermouth rosso", "3 cl gin", "--technique", "stir")
    assert result.exit_code == 0
    assert "1 oz  Vermouth rosso" in result.stdout
    result = run(bar, "design", "sour", "--with", "Jamaica rum (overproof)")
    assert result.exit_code == 0
    assert "oz  Jamaica rum (overproof)" in result.stdout
    result = run(bar, "design", "sour", "--with", "jamaica rum (overproof)", "--json")
    assert '"overproof-rum"' in result.stdout  # programs read keys


def test_specs_and_house_recipes_may_say_labels(bar: Path) -> None:
    (bar / "specs").mkdir()
    spec = """name = "Low Water"
technique = "stir"
[[pours]]
ingredient = "vermouth rosso"
amount = "30 ml"
[[pours]]
ingredient = "gin"
amount = "30 ml"
"""
    (bar / "specs" / "low-water.toml").write_text(spec, encoding="utf-8")
    result = run(bar, "card", "low-water")
    assert result.exit_code == 0
    assert "Vermouth rosso" in result.stdout


RECIPE = """[fog]
name = "harbour fog"
kind = "syrup/nut"
[fog.recipe.inputs]
almonds = "300 g"
water = "500 g"
white-sugar = "600 g"
"""


@pytest.mark.parametrize(
    "label", ["Gin", "sloe gin", "lime-juice", "vermouth rosso", "Harbour fog"]
)
def test_a_label_that_is_anothers_name_is_refused_with_its_line(bar: Path, label: str) -> None:
    (bar / "house").mkdir()
    (bar / "house" / "fog.toml").write_text(RECIPE, encoding="utf-8")
    (bar / "shelf.csv").write_text(f"{SHELF}bourbon,{label},700 ml,28,\n", encoding="utf-8")
    with pytest.raises(BadInput, match="label: ") as refused:
        load_bar(bar)
    assert str(refused.value.where).endswith("shelf.csv, line 7")
    assert "bourbon" in str(refused.value)


def test_a_label_longer_than_a_line_is_refused_and_left_in_the_note_of_a_list(bar: Path) -> None:
    name = "gin of a very long name " * 5
    refused = run(bar, "shelf", "set", "gin", "--label", name)
    assert refused.exit_code == 2
    assert "more than 80 letters" in refused.stderr
    listed = bar / "list.csv"
    listed.write_text(f"name\n{name}\n", encoding="utf-8")
    taken = run(bar, "shelf", "import", str(listed), "--as", f"{name}=pisco")
    assert taken.exit_code == 0, taken.stderr
    assert name.strip() in (bar / "shelf.csv").read_text(encoding="utf-8")


def test_a_label_is_set_and_emptied(bar: Path) -> None:
    result = run(bar, "shelf", "set", "gin", "--label", " Harbour  gin ")
    assert result.stdout == 'changed: gin, called "Harbour gin", 700 mL, 22.00 EUR\n'
    assert run(bar, "shelf", "set", "harbour gin", "--label", "").exit_code == 0
    assert "harbour gin" not in load_bar(bar).library


def test_an_imported_name_is_known_from_then_on(bar: Path) -> None:
    path = bar / "list.csv"
    path.write_text("name,price\nCognac VSOP 70cl,34\n", encoding="utf-8")
    listed = ("shelf", "import", str(path))
    assert run(bar, *listed, "--as", "Cognac VSOP=cognac").exit_code == 0
    assert load_bar(bar).bottles.find("cognac vsop").key == "cognac"
    again = run(bar, *listed, "--update")
    assert "Not known" not in again.stdout


def test_one_more_gin_needs_no_file_of_ones_own(bar: Path) -> None:
    line = ("Plymouth-style gin", "--like", "gin", "--abv", "41.2%", "--size", "70cl")
    result = run(bar, "shelf", "add", *line)
    assert result.stdout.splitlines() == [
        "added: plymouth-style-gin, 700 mL",
        "house/plymouth-style-gin.toml: Plymouth-style gin has the figures and allergens of gin, "
        "and 41.2 % vol by its label. Read the label, and correct it there.",
    ]
    loaded = load_bar(bar)
    own, gin = loaded.bottles.find("plymouth-style gin"), loaded.bottles.find("gin")
    assert (own.abv.value, own.abv.source, own.like) == (41.2, "label", "gin")
    assert (own.kind, own.sugar.value, own.character) == (gin.kind, gin.sugar.value, gin.character)
    assert (own.allergens, own.animal) == (gin.allergens, gin.animal)
    assert "its label is not read" in loaded.told_of(own).cautions[-1]
    taste = taste_of(loaded)
    flavours = flavours_of(loaded.bottles, load_counts(), taste)
    assert flavours[own.key] == flavours[gin.key]


@pytest.mark.parametrize(
    ("name", "like", "said"),
    [
        ("London dry gin", "gin", "is a name of gin already"),
        ("12", "gin", "makes no name of a file"),
        ("big sugar", "white-sugar", "weighed or counted"),
        ("another", "nothing known", "not an ingredient known here"),
    ],
)
def test_what_cannot_be_made_like_another_is_refused(
    bar: Path, name: str, like: str, said: str
) -> None:
    before = (bar / "shelf.csv").read_bytes()
    result = run(bar, "shelf", "add", name, "--like", like)
    assert result.exit_code == 2
    assert said in result.stderr
    assert (bar / "shelf.csv").read_bytes() == before
    assert not (bar / "house").exists()


def test_a_second_sort_in_a_list_is_kept_beside_the_first(bar: Path) -> None:
    path = bar / "list.csv"
    path.write_text("name,price\ndry gin,20\nPlymouth-style gin 41.2%,27\n", encoding="utf-8")
    listed = ("shelf", "import", str(path), "--update")
    result = run(bar, *listed, "--as", "Plymouth-style gin=gin")
    assert "--as 'Plymouth-style gin 41.2%=new like gin'" in result.stdout
    result = run(bar, *listed, "--as", "Plymouth-style gin 41.2%=new like gin")
    assert "1 bottle added, 1 changed." in result.stdout
    own = load_bar(bar).bottles.find("plymouth-style gin")
    assert (own.key, own.abv.value, own.like) == ("plymouth-style-gin", 41.2, "gin")


def test_a_density_belongs_to_the_label_it_was_measured_with() -> None:
    item = next(item for item in load_library() if item.density is not None)
    assert with_own_figures(item, {"other": 1.0}).density is None
    kept = with_own_figures(item, {})
    assert kept.density == item.density
