"""What a bartender expects of a bar that has everything, by the name of a profile alone.

Common practice, no source: these are the drinks that the trade calls by these names.
"""

from __future__ import annotations

import itertools

import pytest

from solver.harmony.dial import Dial
from solver.pantry.library import load_library
from tests.each import each
from tests.harmony.bars import best, harmony, made

SPICED = made("clove-syrup", "syrup/spice", "warm-spice")
AGED, CLEAR = "oak", ("spirit/gin", "spirit/vodka")
SUGAR = "simple-syrup|demerara-syrup"

CLASSICS = {
    "sour": "gin|bourbon|rye-whiskey, lemon-juice, simple-syrup",
    "stirred-dry": "gin, dry-vermouth",
    "stirred": "rye-whiskey|bourbon, sweet-vermouth, aromatic-bitters",
    "equal-parts": "gin, red-bitter, sweet-vermouth",
    "old-fashioned": f"bourbon|rye-whiskey, {SUGAR}, aromatic-bitters",
    "collins": "gin, lemon-juice, simple-syrup, soda-water",
    "fizz": "gin, lemon-juice, simple-syrup, soda-water",
    "buck": "vodka|white-rum|gin|bourbon, lime-juice, ginger-beer",
    "hot-coffee": f"irish-whiskey, {SUGAR}, brewed-coffee, heavy-cream",
    "rickey": "gin, lime-juice, soda-water",
    "highball": "gin|bourbon|blended-scotch, tonic-water|soda-water",
    "colada": "white-rum, pineapple-juice, cream-of-coconut",
    "spritz": "light-orange-bitter|red-bitter, sparkling-wine, soda-water",
    "royale": "gin|cognac, lemon-juice, simple-syrup, sparkling-wine",
    "stirred-low": "fino-sherry, sweet-vermouth|dry-vermouth, orange-bitters",
    "flip": "cognac|ruby-port, simple-syrup, whole-egg",
    "frozen": "white-rum|tequila-blanco, lime-juice, simple-syrup",
    "toddy": "bourbon|rye-whiskey|blended-scotch, lemon-juice, honey-syrup, water",
    "duo": "vodka|cognac|blended-scotch, coffee-liqueur|amaretto|honey-whisky-liqueur",
    "coffee-shaken": "vodka, coffee-liqueur, simple-syrup, brewed-coffee",
    "aperitif-low": "sweet-vermouth, red-bitter, soda-water",
    "smash": "bourbon|rye-whiskey, lemon-juice, simple-syrup",
    "sour-rocks": "bourbon|rye-whiskey, lemon-juice, simple-syrup",
    "sling": "gin, cherry-liqueur, lemon-juice, simple-syrup, aromatic-bitters, soda-water",
    "zero-proof-long": "lemon-juice, simple-syrup, soda-water",
}  # fmt: skip


def fits(poured: tuple[str, ...], expected: str) -> bool:
    wanted = [each.split("|") for each in expected.split(", ")]
    return len(poured) == len(wanted) and all(
        one in names for one, names in zip(poured, wanted, strict=True)
    )


@each(itertools.product(CLASSICS, [Dial.FAMILIAR, Dial.BY_THE_BOOK]))
def test_the_classic_comes_first_on_a_bar_that_has_everything(profile: str, dial: Dial) -> None:
    (first,) = best(harmony(profile, dial=dial))
    assert fits(first, CLASSICS[profile]), first


@pytest.mark.parametrize(
    ("profile", "base", "expected"),
    [
        ("sour", "white-rum", "white-rum, lime-juice, simple-syrup"),
        ("sour", "bourbon", "bourbon, lemon-juice, simple-syrup"),
        ("daisy", "tequila-blanco", "tequila-blanco, lime-juice, orange-liqueur"),
        ("daisy", "cognac", "cognac, lemon-juice, orange-liqueur"),
        ("daisy", "gin", "gin, lemon-juice, orange-liqueur"),
        ("sour-foam", "pisco", "pisco, lemon-juice|lime-juice, simple-syrup, egg-white"),
        ("highball", "gin", "gin, tonic-water"),
        ("highball", "white-rum", "white-rum, cola"),
        ("highball", "grapefruit-soda", "tequila-blanco, lime-juice, grapefruit-soda"),
        ("highball", "tequila-blanco", "tequila-blanco, lime-juice, grapefruit-soda"),
        ("cream", "cognac", "cognac, creme-de-cacao, heavy-cream"),
        ("sour-rocks", "tequila-blanco", "tequila-blanco, lime-juice, orange-liqueur"),
        ("sour-rocks", "white-rum", "white-rum, lime-juice, simple-syrup"),
        ("smash", "gin", "gin, lemon-juice, simple-syrup"),
        ("stirred", "bourbon", "bourbon, sweet-vermouth, aromatic-bitters"),
        (
            "equal-parts-sour",
            "green-herbal-liqueur",
            "gin, green-herbal-liqueur, maraschino-liqueur, lime-juice",
        ),
        ("equal-parts", "rye-whiskey", "rye-whiskey, red-bitter, sweet-vermouth"),
    ],
)
def test_with_the_base_given_the_classic_of_that_base(
    profile: str, base: str, expected: str
) -> None:
    (first,) = best(harmony(profile), 1, [base])
    assert fits(first, expected), first


@pytest.mark.parametrize(
    "profile", ["sour", "hot-coffee", "old-fashioned", "collins", "fizz", "royale"]
)
def test_a_syrup_of_warm_spices_goes_with_aged_spirits_before_clear_ones(profile: str) -> None:
    found = best(harmony(profile, own=[SPICED]), 300, [SPICED.key])
    bases = list(dict.fromkeys(each[0] for each in found))
    library = load_library()
    first = library.find(bases[0])
    assert AGED in first.character
    clear = [n for n, key in enumerate(bases) if library.find(key).kind in CLEAR]
    aged = [n for n, key in enumerate(bases) if AGED in library.find(key).character]
    assert not clear or aged[1] < clear[0]


@pytest.mark.parametrize(
    ("profile", "laughable"),
    [
        ("old-fashioned", "aquavit"),
        ("daisy", "peated-scotch"),
        ("hot-coffee", "mezcal"),
        ("hot-coffee", "vodka"),
        ("toddy", "vodka"),
        ("cream", "peated-scotch"),
        ("stirred-dry", "peated-scotch"),
        ("old-fashioned", "gin"),
        ("zero-proof-sour", "tomato-juice"),
        ("equal-parts-sour", "creme-de-cacao"),
    ],
)
@pytest.mark.parametrize("bar", ["", "demo"])
def test_what_a_bartender_laughed_at_is_far_down(profile: str, laughable: str, bar: str) -> None:
    found = best(harmony(profile, bar), 40)
    assert all(laughable not in poured for poured in found)


@pytest.mark.parametrize("bar", ["", "demo"])
def test_a_split_base_is_of_two_that_go_together_before_gin_with_whiskey(bar: str) -> None:
    found = best(harmony("stirred-split", bar), 40)
    bases = [frozenset(poured[:2]) for poured in found]
    assert not any("gin" in each for each in bases[:10])
    assert all(len(each) == 2 for each in bases)
