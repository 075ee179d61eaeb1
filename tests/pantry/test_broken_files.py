"""Whatever is in a file, its reader returns or says in sentences what is wrong, with the line."""

from __future__ import annotations

import tempfile
from collections.abc import Callable
from dataclasses import replace
from datetime import date
from functools import cache
from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from solver.errors import BadInput
from solver.files.toml import read_toml
from solver.harmony.words import check_usual, said_of
from solver.pantry.bar_file import read_bar_file
from solver.pantry.disclosure import stated
from solver.pantry.house_file import figure_values, restated
from solver.pantry.library import Library, load_library, read_ingredients
from solver.pantry.load_bar import load_bar
from solver.pantry.profile_files import find_profile, profile_files
from solver.pantry.recipe import read_recipes
from solver.pantry.shelf import read_shelf
from solver.pantry.spec import read_spec
from solver.pantry.spec_file import rewritten
from solver.quantities import Measures
from solver.tasks.prep import prepare
from tests.examples import examples
from tests.pantry.strategies import ROOT, broken_csv, broken_toml, mistakes_in

fuzzed = settings(max_examples=examples(1), suppress_health_check=[HealthCheck.too_slow])


def _text(name: str) -> str:
    return (ROOT / name).read_text(encoding="utf-8")


_INGREDIENTS = (
    _text("demo/house/rhubarb-syrup.toml").replace(
        'kind = "syrup/fruit"',
        'kind = "syrup/fruit"\ngoes_with = ["gin", "oak"]\nlike = "grenadine"\nusual = "15 ml"',
    )
    + _text("ingredients/acids.toml")[-2500:].partition("\n\n")[2]
)
_RECIPES = _text("demo/house/almond-spice-syrup.toml") + (
    '\n[cordial]\nname = "cordial"\nkind = "syrup/cordial"\n[cordial.recipe.inputs]\n'
    'almond-spice-syrup = "300 g"\nlemon-juice = "100 ml"\nwhite-sugar = "1 cup"\n'
    '[[cordial.recipe.steps]]\ndo = "fortify"\ningredient = "vodka"\namount = "30 ml"\n'
)
_PROFILE = _text("profiles/sour-foam.toml")
_BAR = _text("demo/bar.toml")
_SPEC = _text("demo/specs/last-ferry.toml").replace("almond-spice-syrup", "orgeat") + (
    "\n# Tasted by all of us.\n[approved]\ndate = 2026-04-02\nabv_pct = 8.9\n"
    "sugar_g_100ml = 5.2\nacid_g_100ml = 0.04\nvolume_ml = 203\nethanol_g = 14.2\n"
    'cost = 2.1\ncurrency = "EUR"\n'
)
_SHELF = "\n".join(_text("demo/shelf.csv").split("\n")[:12])
GOOD = {
    "house.toml": _INGREDIENTS,
    "recipes.toml": _RECIPES,
    "sour-foam.toml": _PROFILE,
    "bar.toml": _BAR,
    "spec.toml": _SPEC,
    "shelf.csv": _SHELF,
}


@cache
def _library() -> Library:
    return load_library()


def _placed(error: BadInput, path: Path, raw: bytes) -> bool:
    """Whether a mistake names the file and a line that it has."""
    where = error.where
    lines = raw.count(b"\n") + raw.count(b"\r") + 1
    return where is not None and where.source == path and 1 <= (where.line or 0) <= lines


def _check(raw: bytes, name: str, read: Callable[[Path], object]) -> None:
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / name
        path.write_bytes(raw)
        mistakes = mistakes_in(lambda: read(path))
        for error in mistakes:
            assert _placed(error, path, raw), error
            assert str(error).isprintable(), repr(str(error))
            assert len(str(error)) < 1500
        assert path.read_bytes() == raw
        assert [item.name for item in Path(folder).iterdir()] == [name]


def _use_ingredients(path: Path) -> None:
    for ingredient in read_ingredients([path]):
        ingredient.composition()
        assert ingredient.key in stated(ingredient).holds
        said_of([ingredient], _library(), Measures())


def _use_recipes(path: Path) -> None:
    own, recipes = read_ingredients([path]), read_recipes([path])
    bar = replace(load_bar(None), library=_library().shadowed_by(own), recipes=recipes)
    for recipe in recipes.values():
        prep = prepare(recipe, bar, date(2026, 5, 4))
        assert prep.figures.mass_g.value > 0
        prep.ingredient.composition()
        values = figure_values(prep.ingredient, prep.told, recipe.file.data[recipe.key])
        assert restated(recipe.file, recipe.key, values)


def _use_profile(path: Path) -> None:
    profile = find_profile(path.stem, {**profile_files(), path.stem: path})
    profile.targets(Measures())
    for part in profile.parts:
        profile.part_pours(part, Measures())
    check_usual(profile, _library())


def _use_spec(path: Path) -> None:
    spec = read_spec(path)
    spec.poured(_library(), Measures())
    assert read_toml(path).data == read_toml(path).data
    assert rewritten(spec, read_toml(path))


@fuzzed
@given(broken_toml(_INGREDIENTS))
def test_an_ingredient_file(raw: bytes) -> None:
    _check(raw, "house.toml", _use_ingredients)


@fuzzed
@given(broken_toml(_RECIPES))
def test_recipes(raw: bytes) -> None:
    _check(raw, "house.toml", _use_recipes)


@fuzzed
@given(broken_toml(_PROFILE))
def test_a_profile(raw: bytes) -> None:
    _check(raw, "sour-foam.toml", _use_profile)


@fuzzed
@given(broken_toml(_BAR))
def test_a_bar(raw: bytes) -> None:
    _check(raw, "bar.toml", read_bar_file)


@fuzzed
@given(broken_toml(_SPEC))
def test_a_spec(raw: bytes) -> None:
    _check(raw, "spec.toml", _use_spec)


@fuzzed
@given(broken_csv(_SHELF))
def test_a_shelf(raw: bytes) -> None:
    _check(raw, "shelf.csv", lambda path: read_shelf(path, _library(), Measures(), "EUR"))


READERS: dict[str, Callable[[Path], object]] = {
    "house.toml": _use_ingredients,
    "recipes.toml": _use_recipes,
    "sour-foam.toml": _use_profile,
    "bar.toml": read_bar_file,
    "spec.toml": _use_spec,
    "shelf.csv": lambda path: read_shelf(path, _library(), Measures(), "EUR"),
}


@pytest.mark.parametrize("name", READERS)
def test_what_the_others_break_is_sound_to_begin_with(name: str, tmp_path: Path) -> None:
    (tmp_path / name).write_text(GOOD[name], encoding="utf-8")
    assert mistakes_in(lambda: READERS[name](tmp_path / name)) == []


@pytest.mark.parametrize("name", READERS)
@settings(fuzzed, max_examples=examples(0.5))
@given(
    raw=st.binary(max_size=60)
    | st.text(max_size=60).map(lambda text: text.encode("utf-8", "ignore"))
)
def test_a_file_of_anything(name: str, raw: bytes) -> None:
    _check(raw, name, READERS[name])


@pytest.mark.parametrize("name", READERS)
def test_a_file_that_is_not_there_is_named(name: str, tmp_path: Path) -> None:
    path = tmp_path / name
    assert [error.what for error in mistakes_in(lambda: READERS[name](path))] == [
        "there is no such file"
    ]


@pytest.mark.parametrize("name", READERS)
def test_a_folder_in_place_of_a_file_cannot_be_read(name: str, tmp_path: Path) -> None:
    path = tmp_path / name
    path.mkdir()
    (error,) = mistakes_in(lambda: READERS[name](path))
    assert error.what == "the file cannot be read"
