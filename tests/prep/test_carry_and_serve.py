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
from solver.pantry.bar import Bar
from solver.pantry.load_bar import load_bar
from solver.pantry.profile_files import find_profile, profile_files
from solver.requests.request import IngredientWish, Request
from solver.search.milp.cpsat import CpSat
from solver.show.pages.prep_strengths import served_svg
from solver.tasks.design import design
from solver.tasks.prep import Prep, find_recipe, prepare
from solver.tasks.prep.best_strength import Served, serve
from solver.tasks.prep.impact_on_specs import impacts_on_specs
from solver.tasks.prep.strength_grid import Grid, GridPoint, of_strength, read_grid, read_names
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
    drinks = {drink.file: drink for drink in impacts_on_specs(prepared("rhubarb-syrup"), demo())}
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
    drinks = {drink.file: drink for drink in impacts_on_specs(prep, bar)}
    assert set(drinks) == {"harbour-light", "dry-dock"}
    for drink in drinks.values():
        sugar = next(change for change in drink.changes if change.measure.name == "sugar")
        assert sugar.now > sugar.before
        assert drink.most >= 0.5


def test_what_was_never_in_a_bottle_moves_nothing(tmp_path: Path) -> None:
    house = recipe('white-sugar = "1 kg"\nwater = "1 kg"')
    bar = bar_with(tmp_path, house)
    assert impacts_on_specs(cook(tmp_path, house), bar) == ()


@pytest.mark.parametrize("brix", [30.0, 45.0, 60.0])
def test_a_batch_brought_to_a_strength_is_thinned_with_water_or_sweetened(brix: float) -> None:
    prep = prepared("rhubarb-syrup")
    made, own = of_strength(prep, GridPoint(brix), demo()), prep.figures
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
    tried = [strength.point for strength in found.strengths]
    assert set(found.grid.first()) < set(tried)
    assert len(tried) == len(set(tried))
    assert tried == sorted(tried, key=lambda point: point.brix)
    assert found.proven
    for strength in found.strengths:
        assert strength.worst == max(serving.worst for serving in strength.servings)
        assert strength.worst >= found.best.worst
        for serving in strength.servings:
            assert serving.answer is not None
            keys = {pour.ingredient.key for pour in serving.answer.pours}
            assert "almond-spice-syrup" in keys
            assert serving.off_aim is not None
            assert serving.answer.off_aim >= serving.off_aim - 1e-9


def test_a_design_at_the_best_strength_says_the_same() -> None:
    best = served().best
    bar = demo().with_bottle(best.ingredient)
    for serving in best.servings:
        profile = find_profile(serving.profile, profile_files(bar.profiles))
        found = design(
            profile, bar, Request(wanted=(IngredientWish("almond-spice-syrup"),)), CpSat()
        )
        assert found.bound == pytest.approx(serving.off_aim)


def brixes(points: tuple[GridPoint, ...]) -> list[float]:
    return [point.brix for point in points]


def test_the_grid_is_what_it_says() -> None:
    grid = Grid(30, 64)
    assert brixes(grid.first()) == [30, 34, 38, 42, 46, 50, 54, 58, 62, 64]
    assert brixes(grid.around(GridPoint(46))) == [43, 44, 45, 47, 48, 49]
    assert brixes(grid.around(GridPoint(64))) == [61, 63]
    assert brixes(read_grid("40..45 Brix", None, demo()).first()) == [40, 44, 45]
    assert read_grid(None, None, demo()).high == 64


def test_a_grid_with_acid_tries_both_ends_and_the_middle_and_then_closer() -> None:
    grid = read_grid("50 Brix", "0..2 g/100ml", demo())
    assert grid.first() == (GridPoint(50, 0), GridPoint(50, 1), GridPoint(50, 2))
    assert grid.around(GridPoint(50, 1)) == (GridPoint(50, 0.5), GridPoint(50, 1.5))
    assert grid.around(GridPoint(50, 2)) == (GridPoint(50, 1.5),)


@pytest.mark.parametrize(
    ("brix", "acid"),
    [
        ("40.. Brix", None), ("..40 Brix", None), ("1..40 Brix", None), ("40..99 Brix", None),
        ("40 ml", None), (None, "0..20 g/100ml"), (None, "1.. g/100ml"), (None, "2..1 g/100ml"),
    ],
)  # fmt: skip
def test_strengths_that_no_syrup_has_are_refused(brix: str | None, acid: str | None) -> None:
    with pytest.raises(BadInput):
        read_grid(brix, acid, demo())


@pytest.mark.parametrize("acid", [1.5, 3.0])
def test_a_batch_is_sharpened_to_an_acid_at_its_strength(acid: float) -> None:
    prep = prepared("rhubarb-syrup")
    made = of_strength(prep, GridPoint(55, acid), demo())
    assert made.acid.value == pytest.approx(acid, abs=0.001)
    same = of_strength(prep, GridPoint(55), demo())
    assert same.acid.value < prep.figures.acid_g_100ml.value
    assert made.sugar.value == pytest.approx(same.sugar.value, rel=0.05)
    assert of_strength(prep, GridPoint(55, 0.1), demo()) == same


def test_an_acid_that_may_be_chosen_never_makes_the_worst_drink_worse() -> None:
    def best(acids: tuple[float, float] | None) -> float:
        grid = Grid(50, 50, acids=acids)
        found = serve("rhubarb-syrup", ("bollard-sour", "collins"), demo(), TODAY, CpSat(), grid)
        syrups = [strength.ingredient.acid.value for strength in found.strengths]
        assert len(syrups) == len(set(syrups))
        return found.best.worst

    assert best((0.0, 2.0)) <= best(None) + 1e-9


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
    picture = ElementTree.fromstring(served_svg(found).encode())  # noqa: S314
    name = "{http://www.w3.org/2000/svg}"
    assert picture.tag == f"{name}svg"
    said = " ".join(text.text or "" for text in picture.iter(f"{name}text"))
    for word in (*found.profiles, "worst", "Brix"):
        assert word in said
    assert f"{found.best.brix:g} Brix" in (picture.findtext(f"{name}desc") or "")
    assert len(list(picture.iter(f"{name}circle"))) == len(found.strengths)


def test_a_strength_that_serves_nothing_is_a_gap_in_the_line() -> None:
    found = served()
    inner = found.strengths[1]
    none = tuple(replace(serving, off_aim=math.inf) for serving in inner.servings)
    strengths = (found.strengths[0], replace(inner, servings=none), *found.strengths[2:])
    drawn = served_svg(replace(found, strengths=strengths))
    name = "{http://www.w3.org/2000/svg}"
    lines = ElementTree.fromstring(drawn.encode()).iter(f"{name}path")  # noqa: S314
    heavy = next(line for line in lines if line.get("stroke-width") == "2.6")
    assert heavy.get("d", "").count("M") == 2


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
    bar = demo().with_bottle(prep.ingredient, 0.01)
    stocked = bar.stocked("rhubarb-syrup")
    assert stocked is not None
    assert stocked.price_per_unit == pytest.approx(0.01)
    lone = replace(demo(), stock=()).with_bottle(prep.ingredient)
    assert [item.ingredient.key for item in lone.stock] == ["rhubarb-syrup"]
    assert math.isfinite(served().now.worst)
