"""What a batch does to the card, and the strength of one syrup for several drinks."""

from __future__ import annotations

import math
import shutil
from dataclasses import replace
from functools import cache
from pathlib import Path
from xml.etree import ElementTree

import pytest

from solver.errors import BadInput
from solver.mixture.sucrose import grams_per_100ml
from solver.pantry.bar import Bar, load_bar
from solver.pantry.profile_files import find_profile, profile_files
from solver.search.cpsat import CpSat
from solver.show.curve import Line, curve_svg
from solver.show.served import served_svg
from solver.tasks.design import design
from solver.tasks.prep import Prep, find_recipe, prepare
from solver.tasks.prep.carry import carried_through, with_bottle
from solver.tasks.prep.serve import Grid, Served, of_strength, read_grid, read_names, serve
from solver.tasks.request import Request
from tests.prep.bars import TODAY, bar_with, cook, recipe

DEMO = Path(__file__).parents[2] / "demo"


@cache
def demo() -> Bar:
    return load_bar(DEMO)


def prepared(key: str) -> Prep:
    return prepare(find_recipe(key, demo()), demo(), TODAY)


@cache
def served() -> Served:
    profiles = ("old-fashioned", "hot-coffee")
    grid = Grid(46, 50, coarse=2, fine=1)
    return serve("almond-spice-syrup", profiles, demo(), TODAY, CpSat(), grid)


def test_a_batch_like_the_last_one_moves_no_drink() -> None:
    drinks = {drink.file: drink for drink in carried_through(prepared("rhubarb-syrup"), demo())}
    assert set(drinks) == {"harbour-light", "dry-dock"}
    assert max(drink.most for drink in drinks.values()) < 0.5


def test_a_sweeter_batch_moves_every_drink_that_pours_it_and_no_other(tmp_path: Path) -> None:
    folder = tmp_path / "demo"
    shutil.copytree(DEMO, folder)
    path = folder / "house" / "rhubarb-syrup.toml"
    text = path.read_text(encoding="utf-8").replace("1960 g", "2900 g").replace("4080 g", "5020 g")
    path.write_text(text.replace('brix = "50.1 Brix"', 'brix = "59.6 Brix"'), encoding="utf-8")
    bar = load_bar(folder)
    prep = prepare(find_recipe("rhubarb-syrup", bar), bar, TODAY)
    drinks = {drink.file: drink for drink in carried_through(prep, bar)}
    assert set(drinks) == {"harbour-light", "dry-dock"}
    for drink in drinks.values():
        sugar = next(change for change in drink.changes if change.measure.name == "sugar")
        assert sugar.now > sugar.before
        assert drink.most >= 0.5


def test_what_was_never_in_a_bottle_moves_nothing(tmp_path: Path) -> None:
    house = recipe('white-sugar = "1 kg"\nwater = "1 kg"')
    bar = bar_with(tmp_path, house)
    assert carried_through(cook(tmp_path, house), bar) == ()


@pytest.mark.parametrize("brix", [30.0, 45.0, 60.0])
def test_a_batch_brought_to_a_strength_is_thinned_with_water_or_sweetened(brix: float) -> None:
    prep = prepared("rhubarb-syrup")
    made, own = of_strength(prep, brix, demo()), prep.figures
    # ICUMSA sucrose polynomial; 3.4 % of what is dissolved here is acid and other matter
    assert made.sugar.value == pytest.approx(float(grams_per_100ml(brix)), rel=0.04)
    assert made.acid.value < own.acid_g_100ml.value
    thinned = made.sugar.value / own.sugar_g_100ml.value
    kept = made.acid.value / own.acid_g_100ml.value
    if brix < own.brix.value:
        assert kept == pytest.approx(thinned, rel=0.002)
    else:
        assert kept < 1 < thinned


def test_the_best_strength_is_the_one_whose_worst_drink_is_closest() -> None:
    found = served()
    assert [strength.brix for strength in found.strengths] == sorted(
        {46.0, 48.0, 50.0, *found.grid.around(found.best.brix)} | {found.best.brix}
    )
    assert found.proven
    for strength in found.strengths:
        assert strength.worst == max(serving.off_aim for serving in strength.servings)
        assert strength.worst >= found.best.worst
        for serving in strength.servings:
            assert serving.answer is not None
            keys = {pour.ingredient.key for pour in serving.answer.pours}
            assert "almond-spice-syrup" in keys
            assert serving.answer.off_aim >= serving.off_aim - 1e-9


def test_a_design_at_the_best_strength_says_the_same() -> None:
    best = served().best
    bar = with_bottle(demo(), best.ingredient)
    for serving in best.servings:
        profile = find_profile(serving.profile, profile_files(bar.profiles))
        found = design(profile, bar, Request(wanted=("almond-spice-syrup",)), CpSat())
        assert found.bound == pytest.approx(serving.off_aim)


def test_the_grid_is_what_it_says() -> None:
    grid = Grid(30, 64)
    assert grid.first() == (30, 34, 38, 42, 46, 50, 54, 58, 62, 64)
    assert grid.around(46) == (43, 44, 45, 47, 48, 49)
    assert grid.around(64) == (61, 63)
    assert read_grid("40..45 Brix", demo()).first() == (40, 44, 45)
    assert read_grid(None, demo()).high == 64


@pytest.mark.parametrize("text", ["40.. Brix", "..40 Brix", "1..40 Brix", "40..99 Brix", "40 ml"])
def test_strengths_that_no_syrup_has_are_refused(text: str) -> None:
    with pytest.raises(BadInput):
        read_grid(text, demo())


@pytest.mark.parametrize(
    ("key", "profiles", "said"),
    [
        ("rhubarb-syrup", ("spritz",), "no part of spritz takes"),
        ("rhubarb-syrup", ("soor",), "soor"),
        ("unobtainium", ("sour",), "no recipe for"),
    ],
)
def test_what_cannot_be_served_is_said(key: str, profiles: tuple[str, ...], said: str) -> None:
    with pytest.raises(BadInput, match=said):
        serve(key, profiles, demo(), TODAY, CpSat(), Grid(50, 50))


def test_names_of_profiles_stand_between_commas() -> None:
    assert read_names("sour, old-fashioned,sour") == ("sour", "old-fashioned")
    with pytest.raises(BadInput, match="names no profiles"):
        read_names(" , ")


def test_the_picture_shows_every_point_and_says_what_is_to_be_seen() -> None:
    found = served()
    picture = ElementTree.fromstring(served_svg(found))  # noqa: S314
    name = "{http://www.w3.org/2000/svg}"
    assert picture.tag == f"{name}svg"
    said = " ".join(text.text or "" for text in picture.iter(f"{name}text"))
    for word in (*found.profiles, "worst", "Brix"):
        assert word in said
    assert f"{found.best.brix:g} Brix" in (picture.findtext(f"{name}desc") or "")
    assert len(list(picture.iter(f"{name}circle"))) == len(found.strengths) + 1


def test_a_strength_that_serves_nothing_is_a_gap_in_the_line() -> None:
    lines = [Line("a", [1.0, None, 2.0]), Line("worst", [1.0, None, 2.0])]
    drawn = curve_svg(
        title="t & t", says="s", across="x", up="y", at=[1, 2, 3], lines=lines, mark=(1, 1)
    )
    heavy = next(line for line in drawn.splitlines() if 'stroke-width="2.5"' in line)
    assert heavy.count("M") == 2
    assert "t &amp; t" in drawn


def test_no_strength_for_what_no_drink_can_meet(tmp_path: Path) -> None:
    folder = tmp_path / "demo"
    shutil.copytree(DEMO, folder)
    (folder / "profiles" / "dry.toml").write_text(
        'name = "dry"\nsays = "no sugar at all in a sweet drink"\ninherits = "bollard-sour"\n'
        '[limits]\nsugar = "<=0.5 g/100ml"\n[aims]\nsugar = "0.2 g/100ml"\n'
        '[source]\nbasis = "practice"\ntext = "Common practice, no source"\n',
        encoding="utf-8",
    )
    bar = load_bar(folder)
    with pytest.raises(BadInput, match="no strength on the grid"):
        serve("rhubarb-syrup", ("dry",), bar, TODAY, CpSat(), Grid(50, 50))


def test_the_price_of_a_batch_is_that_of_its_bottle() -> None:
    prep = prepared("rhubarb-syrup")
    bar = with_bottle(demo(), prep.ingredient, 0.01)
    stocked = bar.stocked("rhubarb-syrup")
    assert stocked is not None
    assert stocked.price_per_unit == pytest.approx(0.01)
    lone = with_bottle(replace(demo(), stock=()), prep.ingredient)
    assert [item.ingredient.key for item in lone.stock] == ["rhubarb-syrup"]
    assert math.isfinite(served().now.worst)
