"""What somebody does who fills a bar's files for the first time: each slip says what to write."""

from __future__ import annotations

from pathlib import Path

import pytest

from solver.errors import BadInput, BadInputs
from solver.pantry.library import load_library, read_ingredients
from tests.prep.bars import bar_with, recipe


def slip(folder: Path, house: str = "", shelf: str = "") -> str:
    with pytest.raises((BadInput, BadInputs)) as caught:
        bar_with(folder, house, shelf)
    return str(caught.value)


def test_a_bare_number_of_bottles_is_told_how_stock_is_written(tmp_path: Path) -> None:
    said = slip(tmp_path, shelf="gin,700 ml,22,1.5,,,\n")
    assert "on_hand: '1.5' has no unit" in said
    assert said.endswith("Write it like 1.5 bottles or 450 ml.")


def test_a_row_for_a_recipe_that_nobody_bottled_says_what_writes_it(tmp_path: Path) -> None:
    house = recipe('white-sugar = "500 g"\nwater = "500 g"')
    said = slip(tmp_path, house, "The Syrup,500 ml,3,1 bottle,,,\n")
    assert "nothing of The Syrup is in a bottle yet" in said
    assert "Delete the row: `equipour prep syrup --stock` writes it." in said


def test_a_figure_without_its_source_is_told_how_a_figure_is_written(tmp_path: Path) -> None:
    file = tmp_path / "house.toml"
    file.write_text(
        '[x]\nname = "x"\nkind = "syrup/plain"\nabv = "0%"\nsugar = { g_100ml = 60 }\n',
        encoding="utf-8",
    )
    with pytest.raises(BadInputs) as caught:
        read_ingredients([file])
    said = str(caught.value)
    assert 'Write it like abv = { pct = 0, basis = "estimate", source = "…" }.' in said
    assert "x.sugar.basis is missing" in said
    assert "Use one of: published, definition, computed, practice, memory, estimate." in said
    assert 'Say where it is from, like source = "refractometer".' in said
    assert "x.acid is missing" in said


@pytest.mark.parametrize(
    ("typed", "first"), [("simple", "simple-syrup"), ("mescal", "mezcal"), ("bourbn", "bourbon")]
)
def test_the_nearest_name_comes_first(typed: str, first: str) -> None:
    assert load_library().near(typed)[0] == first


def test_nothing_far_fetched_is_suggested() -> None:
    assert load_library().near("flannel") == ()


RAW = (
    '[squash]\nname = "our squash"\nkind = "raw/vegetable"\nper = "g"\n'
    'abv = { pct = 0, basis = "estimate", source = "x" }\n'
    'sugar = { g_100g = 3, basis = "estimate", source = "x" }\n'
    'acid = { g_100g = 0, basis = "estimate", source = "x" }\n'
)


@pytest.mark.parametrize(
    ("more", "said"),
    [
        ("", "squash.moisture: it is missing"),
        ("moisture = { g_100g = 90, {} }\n", "squash.insoluble: it is missing"),
        (
            "moisture = { g_100g = 9, {} }\ninsoluble = { g_100g = 2, {} }\n",
            "of 100 g, 86 g are neither water, sugar, acid nor left over",
        ),
    ],
)
def test_raw_stuff_of_unknown_matter_is_a_mistake_with_its_line(
    tmp_path: Path, more: str, said: str
) -> None:
    file = tmp_path / "house.toml"
    file.write_text(RAW + more.replace("{}", 'basis = "estimate", source = "x"'), encoding="utf-8")
    with pytest.raises((BadInput, BadInputs), match=said) as caught:
        read_ingredients([file])
    assert f"{file}, line" in str(caught.value)
    assert "Write it like" in str(caught.value) or "look at moisture first" in str(caught.value)


@pytest.mark.parametrize("kind", ["sugar", "acid/powder", "seasoning/savoury"])
def test_what_is_dry_needs_no_word_on_its_water(tmp_path: Path, kind: str) -> None:
    file = tmp_path / "house.toml"
    file.write_text(RAW.replace("raw/vegetable", kind) + 'tool = "weigh"\n', encoding="utf-8")
    assert len(read_ingredients([file])) == 1
