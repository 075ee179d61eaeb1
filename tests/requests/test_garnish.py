"""What goes on a drink: by what is poured, as the trade has it (common practice, no source)."""

from __future__ import annotations

import re
from dataclasses import replace
from pathlib import Path

import pytest
from click.testing import CliRunner

from solver.cli.main import main
from solver.pantry.bar import Bar
from solver.pantry.library import load_library
from solver.pantry.load_bar import load_bar
from solver.pantry.profile_files import find_profile, load_profiles, profile_files
from solver.pantry.stocked import Stocked
from solver.quantities import Measures, parse_pour_span
from solver.requests.asked_drink import AskedDrink
from solver.requests.leaves import HERB, leaves_in
from solver.requests.read_request import WrittenRequest, read_request
from tests.open_bars import OPEN
from tests.profile_tables import DEMO

FILES = profile_files()
BARE = {"sour-acid", "hot-coffee", "duo", "wine-juice", "long-juice", "colada"}
"""No garnish is usual: acid stands for the fruit, cream lies on top, or it depends on the juice."""


def on(profile: str, *keys: str) -> str | None:
    library = load_library()
    return find_profile(profile, FILES).garnish_on([library.find(key) for key in keys])


@pytest.mark.parametrize(
    ("profile", "poured", "garnish"),
    [
        ("sour", "gin lemon-juice simple-syrup", "lemon peel"),
        ("sour", "bourbon lemon-juice simple-syrup", "orange slice"),
        ("sour-foam", "bourbon lemon-juice simple-syrup egg-white", "lemon peel"),
        ("cream", "cognac creme-de-menthe heavy-cream", "mint leaf"),
        ("fizz", "gin lemon-juice simple-syrup soda-water", "lemon peel"),
        ("stirred", "rye-whiskey sweet-vermouth aromatic-bitters", "cocktail cherry"),
        ("stirred", "rye-whiskey sweet-vermouth red-bitter", "orange peel"),
        ("stirred", "gin dry-vermouth orange-bitters", "lemon peel"),
        ("stirred", "gin sweet-vermouth orange-bitters", "orange peel"),
        ("spritz", "limoncello sparkling-wine soda-water", "lemon slice"),
        ("spritz", "creme-de-cassis sparkling-wine soda-water", "lemon peel"),
        ("aperitif-low", "sweet-vermouth soda-water", "orange slice"),
        ("highball", "rye-whiskey ginger-ale", "lemon peel"),
        ("highball", "vodka soda-water", "lime wedge"),
        ("sour", "white-rum lime-juice simple-syrup", "lime wheel"),
        ("daisy", "tequila-blanco lime-juice orange-liqueur", "rim of salt, and a lime wheel"),
        ("daisy", "cognac lemon-juice orange-liqueur", "orange peel"),
        ("collins", "gin lime-juice simple-syrup soda-water", "lime wheel"),
        ("buck", "bourbon lemon-juice ginger-beer", "lemon wedge"),
        ("buck", "vodka lime-juice ginger-beer", "lime wedge"),
        ("highball", "blended-scotch soda-water", "lemon peel"),
        ("highball", "gin tonic-water", "lime wedge"),
        ("highball", "red-bitter soda-water", "orange slice"),
        ("coffee-shaken", "vodka coffee-liqueur espresso", "three coffee beans"),
        ("spritz", "light-orange-bitter sparkling-wine soda-water", "orange slice"),
        ("muddled-long", "white-rum lime-juice white-sugar soda-water",
         "8 mint leaves, bruised in the glass, and a sprig of mint on top"),
        ("smash", "bourbon lemon-juice simple-syrup",
         "8 mint leaves, shaken with it, and a sprig of mint on top"),
        ("smash", "gin lemon-juice simple-syrup",
         "8 basil leaves, shaken with it, and a basil leaf on top"),
        ("sour-acid", "gin lime-acid simple-syrup", None),
    ],
)  # fmt: skip
def test_the_garnish_follows_what_is_poured(profile: str, poured: str, garnish: str | None) -> None:
    assert on(profile, *poured.split()) == garnish


def test_a_garnish_of_its_own_replaces_all_that_is_inherited() -> None:
    assert find_profile("collins", FILES).garnishes
    for profile in ("muddled-long", "fizz-cream"):
        found = find_profile(profile, FILES)
        assert found.inherits
        assert found.garnish
        assert not found.garnishes


def test_every_style_says_its_glass_and_most_their_garnish() -> None:
    profiles = load_profiles()
    assert [each.name for each in profiles if each.glass is None] == []
    bare = {each.name for each in profiles if not each.garnish and not each.garnishes}
    assert bare <= BARE


def test_words_of_garnishes_are_ingredients_or_kinds_that_a_part_takes() -> None:
    library = load_library()
    for profile in load_profiles():
        takes = [each for each in library if any(part.accepts(each) for part in profile.parts)]
        for word in profile.garnishes:
            found = any(each.answers_to(word) or each.is_kind(word) for each in takes)
            asked = library.find(word).is_kind(HERB) if "/" not in word else False
            assert found or asked or profile.inherits, (profile.name, word)


def test_what_a_guest_avoids_is_not_laid_on_the_glass() -> None:
    bar = load_bar(DEMO)
    profile = find_profile("smash", profile_files(bar.profiles))
    request = read_request(WrittenRequest(unwanted=("mint",)), bar)
    asked = AskedDrink.of(profile, bar, request)
    bourbon, gin = (bar.bottles.find(key) for key in ("bourbon", "gin"))
    assert asked.garnish_on([bourbon]) is None
    assert asked.garnish_on([gin]) == "8 basil leaves, shaken with it, and a basil leaf on top"
    stirred = find_profile("stirred", profile_files(bar.profiles))
    nuts = AskedDrink.of(stirred, bar, read_request(WrittenRequest(unwanted=("nuts",)), bar))
    assert stirred.garnish_on([bourbon]) == "cocktail cherry"
    assert nuts.garnish_on([bourbon]) == "orange peel"


def with_leaves(*keys: str) -> Bar:
    """The demonstration bar, which has no leaves, with some."""
    bar = load_bar(DEMO)
    rows = tuple(Stocked(bar.library.find(key)) for key in keys)
    return replace(bar, stock=(*bar.stock, *rows))


def leaves_of(
    profile: str, bar: Bar, *poured: str, wanted: tuple[str, ...] = ()
) -> dict[str, bool]:
    """The leaves of a drink, with whether the shelf has them."""
    request = read_request(WrittenRequest(wanted=wanted), bar)
    drink = AskedDrink.of(find_profile(profile, FILES), bar, request)
    garnish = drink.garnish_on([bar.bottles.find(key) for key in poured])
    return {each.ingredient.key: each.on_shelf for each in leaves_in(garnish, bar)}


def test_leaves_that_go_in_are_counted_and_weighed() -> None:
    bar = with_leaves("mint-leaves", "basil-leaves")
    for profile in load_profiles():
        for garnish in (profile.garnish, *profile.garnishes.values()):
            for each in leaves_in(garnish, bar):
                assert re.match(r"[1-9]\d* ", each.says), (profile.name, garnish)
                assert bar.garnishes.taken(garnish or "").uncounted == ()
    mint = bar.library.find("mint-leaves")
    (leaf,) = leaves_in("8 mint leaves, bruised in the cup", bar)
    assert (leaf.ingredient, leaf.on_shelf) == (mint, True)
    assert leaf.g == pytest.approx(0.4)


@pytest.mark.parametrize(
    ("stocked", "poured", "leaves"),
    [
        ("mint-leaves basil-leaves", "gin", {"basil-leaves": True}),
        ("mint-leaves", "gin", {"mint-leaves": True}),
        ("basil-leaves", "bourbon", {"basil-leaves": True}),
        ("", "bourbon", {"mint-leaves": False}),
    ],
)
def test_a_smash_has_the_leaves_that_the_bar_has(
    stocked: str, poured: str, leaves: dict[str, bool]
) -> None:
    assert leaves_of("smash", with_leaves(*stocked.split()), poured) == leaves


def test_leaves_that_are_asked_for_go_in_whatever_else_is_usual() -> None:
    bar = with_leaves("mint-leaves", "basil-leaves")
    for profile in ("smash", "sour", "fizz", "royale"):
        asked = leaves_of(profile, bar, "gin", "lime-juice", wanted=("mint",))
        assert asked == {"mint-leaves": True}
    assert leaves_of("sour", bar, "gin", "lime-juice") == {}


@pytest.mark.parametrize(
    ("stocked", "asked", "said"),
    [
        (("mint-leaves",), ("--with", "mint"), "8 mint leaves, bruised in the cup"),
        ((), ("--with", "mint"), "not on the shelf: with mint leaves"),
        (("mint-leaves",), ("--with", "mint", "--without", "only mint"),
         "A julep has its mint leaves by its garnish, 8 mint leaves, bruised in the cup"),
        ((), (), "No mint leaves on the shelf: without them it is not a julep."),
        (("mint-leaves",), ("--without", "only mint"),
         "No mint leaves, for the guest: without them it is not a julep."),
    ],
)  # fmt: skip
def test_a_julep_is_asked_for_with_mint_and_says_what_it_is_without(
    stocked: tuple[str, ...], asked: tuple[str, ...], said: str, tmp_path: Path
) -> None:
    (tmp_path / "bar.toml").write_text('name = "A bar"\n', encoding="utf-8")
    keys = ("bourbon", "simple-syrup", *stocked)
    rows = "\n".join(f"{key},{'100 g' if key == 'mint-leaves' else '1 l'}" for key in keys)
    (tmp_path / "shelf.csv").write_text(f"ingredient,bottle\n{rows}\n", encoding="utf-8")
    output = CliRunner().invoke(main, ["design", "julep", *asked, "--bar", str(tmp_path)]).output
    assert said in " ".join(output.split())


def test_a_design_says_how_it_is_made_in_what_glass_and_on_what() -> None:
    def first_line(*arguments: str) -> str:
        asked = ["design", *arguments, "--bar", str(DEMO)]
        return CliRunner().invoke(main, asked, obj=OPEN).output.splitlines()[0]

    assert first_line("duo") == "duo: built on ice, in a rocks glass"
    strained = "sour: shaken with ice and strained"
    assert first_line("sour") == f"{strained}, up in a coupe"
    fine = "smash: shaken with ice and fine strained, on fresh ice in a double rocks glass"
    assert first_line("smash") == fine
    rocks = first_line("sour", "--glass", "double-rocks")
    assert rocks == f"{strained}, on fresh ice in a double rocks glass"


def test_a_glass_that_a_bar_has_measured_is_still_served_in_as_any_such(tmp_path: Path) -> None:
    (tmp_path / "bar.toml").write_text(
        'name = "A bar"\n[glasses.rocks]\nbrim = "250 ml"\nwash_line = "150 ml"\n'
    )
    (tmp_path / "shelf.csv").write_text("ingredient,bottle\ngin,700 ml\n")
    glass = load_bar(tmp_path).glass("rocks")
    assert (glass.says, glass.serve, glass.wash_line_ml) == ("rocks glass", "on rocks", 150)


def test_a_lemonade_is_as_much_syrup_as_lemon_under_four_or_more_of_soda() -> None:
    profile = find_profile("lemonade", FILES)
    spans = {p.name: parse_pour_span(p.each or "", Measures()) for p in profile.parts}
    assert profile.name == "zero-proof-long"
    assert spans["sour"].high == spans["sweet"].high
    assert spans["lengthener"].high >= 4 * spans["sour"].high
