"""What a profile calls usual and what a bar says of its ingredients are read, slips are named."""

from __future__ import annotations

from pathlib import Path

import pytest

from solver.errors import BadInput, BadInputs, EquipourError
from solver.harmony.taste import SaidOfIngredient
from solver.harmony.words import check_usual, said_of
from solver.pantry.library import Library, load_library, read_ingredients
from solver.pantry.profile import Profile
from solver.pantry.profile_files import find_profile, load_profiles, profile_files
from solver.quantities import Measures

PROFILE = """\
name = "mine"
says = "a sour of our own"
inherits = "sour"
{top}
[parts.base]
{base}
[source]
basis = "practice"
text = "Made up for a test."
"""
SYRUP = """\
[our-syrup]
name = "our syrup"
kind = "syrup/fruit"
abv = {{ pct = 0, basis = "definition", source = "no alcohol" }}
sugar = {{ g_100ml = 60, basis = "estimate", source = "made up" }}
acid = {{ g_100ml = 0, basis = "estimate", source = "made up" }}
{more}
"""


def profile(folder: Path, base: str = "", top: str = "") -> Profile:
    path = folder / "mine.toml"
    path.write_text(PROFILE.format(base=base, top=top), encoding="utf-8")
    return find_profile("mine", {**profile_files(), "mine": path})


def said(folder: Path, more: str) -> dict[str, SaidOfIngredient]:
    path = folder / "house.toml"
    path.write_text(SYRUP.format(more=more), encoding="utf-8")
    own = read_ingredients([path])
    return said_of(own, Library((*own, *load_library())), Measures())


def sentence(error: EquipourError) -> str:
    (only,) = error.errors if isinstance(error, BadInputs) else [error]
    assert isinstance(only, BadInput)
    return only.sentence()


def test_every_word_of_the_built_in_profiles_names_something_that_the_part_takes() -> None:
    library = load_library()
    for each in load_profiles():
        check_usual(each, library)
        for part in each.parts:
            for word in part.usual if part.count[1] else ():
                fits = (i for i in library if i.key == word or i.is_kind(word))
                assert any(map(part.accepts, fits)), (each.name, part.name, word)


def test_every_built_in_profile_says_what_is_usual_and_where_from() -> None:
    for each in load_profiles():
        assert each.usual is not None
        assert each.usual.basis == "practice"
        assert each.usual.text.startswith("Common practice, no source")
        assert any(part.usual for part in each.parts)


def test_shares_replace_those_that_are_inherited(tmp_path: Path) -> None:
    """Shares of other drinks would be no shares of these."""
    found = profile(tmp_path, 'usual = { "spirit/agave" = 0.9 }')
    assert dict(found.part("base").usual) == {"spirit/agave": 0.9}
    assert dict(profile(tmp_path).part("base").usual)["spirit/gin"] > 0


@pytest.mark.parametrize(
    ("base", "said_of_it"),
    [
        ("usual = { gin = 0.7, vodka = 0.4 }", "parts.base.usual: the shares add up to 1.1"),
        ("usual = { gin = 0 }", "parts.base.usual.gin is not right"),
        ("usual = { gin = 2.0 }", "parts.base.usual.gin must be at most 1"),
        ('usual = { gin = "often" }', "parts.base.usual.gin must be a number without quotes"),
        ("usual_count = { one = 0.7 }", "'one' is not how many"),
        ('instead_of = "sweat"', "base is poured instead of 'sweat', no part here"),
    ],
)
def test_what_is_wrong_is_said_with_its_line(tmp_path: Path, base: str, said_of_it: str) -> None:
    with pytest.raises((BadInput, BadInputs)) as caught:
        profile(tmp_path, base)
    told = sentence(caught.value)
    assert said_of_it in told
    assert "mine.toml, line" in told


def test_usual_needs_a_source(tmp_path: Path) -> None:
    path = tmp_path / "alone.toml"
    path.write_text(
        'name = "alone"\nsays = "one thing"\ntechnique = "shake"\n[parts.base]\n'
        'kinds = ["spirit"]\ncount = [1, 1]\neach = "2 oz"\nusual = { gin = 0.5 }\n'
        '[source]\nbasis = "practice"\ntext = "Made up."\n',
        encoding="utf-8",
    )
    with pytest.raises(BadInputs) as caught:
        find_profile("alone", {"alone": path})
    assert "nothing says where the usual base is from" in sentence(caught.value)


def test_a_word_that_nobody_knows_is_named_with_its_line(tmp_path: Path) -> None:
    with pytest.raises(BadInput) as caught:
        check_usual(profile(tmp_path, "usual = { bourbn = 0.5 }"), load_library())
    told = sentence(caught.value)
    assert "'bourbn' is no ingredient, no kind and no character" in told
    assert "mine.toml, line 6" in told
    assert "Did you mean bourbon" in told


def test_a_bars_words_are_read(tmp_path: Path) -> None:
    found = said(
        tmp_path,
        'goes_with = ["gin", "spirit/rum", "oak"]\nnot_with = ["coffee liqueur"]\n'
        'never = ["dairy"]\nlike = "grenadine"\nusual = "15 ml"',
    )
    assert found == {
        "our-syrup": SaidOfIngredient(
            ("gin", "spirit/rum", "oak"), ("coffee-liqueur",), ("dairy",), "grenadine", 15.0
        )
    }


def test_who_says_nothing_is_left_out(tmp_path: Path) -> None:
    assert said(tmp_path, "") == {}


@pytest.mark.parametrize(
    ("more", "said_of_it", "line"),
    [
        ('goes_with = ["ginn"]', "'ginn' is no ingredient", 7),
        ('like = "grenadin"', "'grenadin' is not an ingredient known here", 7),
        ('usual = "some"', "'some'", 7),
        ('goes_with = "gin"', "our-syrup.goes_with must be a list", 7),
    ],
)
def test_a_bars_slip_is_said_with_its_line(
    tmp_path: Path, more: str, said_of_it: str, line: int
) -> None:
    with pytest.raises((BadInput, BadInputs)) as caught:
        said(tmp_path, more)
    told = sentence(caught.value)
    assert said_of_it in told
    assert f"house.toml, line {line}" in told
