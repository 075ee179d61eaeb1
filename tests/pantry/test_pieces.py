"""What is counted and not measured: found by its words, weighed by the library, else refused."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from solver.drinks.assess import assess
from solver.errors import BadInput
from solver.files.toml import read_toml
from solver.pantry.folders import YIELDS
from solver.pantry.library import load_library
from solver.pantry.load_bar import load_bar
from solver.pantry.spec import Spec, SpecPour
from solver.pantry.spec_lines import spec_of_lines
from solver.quantities import Measures, parse_pour

LIBRARY = load_library()
MEASURES = Measures()
CUTS = [
    (key, cut) for key, cuts in read_toml(YIELDS / "garnish.toml").data.items() for cut in cuts
] + [
    (key, cut)
    for key, fruit in read_toml(YIELDS / "fruit.toml").data["fruit"].items()
    for cut in fruit["cuts"]
]


def poured(line: str) -> tuple[str, float]:
    """The key and the amount of one line."""
    (pour,) = spec_of_lines([line], (), LIBRARY, MEASURES).poured(LIBRARY, MEASURES)
    return pour.ingredient.key, pour.amount


@pytest.mark.parametrize(
    ("line", "key", "amount"),
    [
        ("8 mint leaves", "mint-leaves", 0.4),
        ("2 egg yolks", "egg-yolk", 33.0),
        ("8 leaves mint leaves", "mint-leaves", 0.4),
        ("2 sprigs of mint", "mint-leaves", 2.0),
        ("1 lime wedge", "whole-limes", 10.0),
        ("2 wedges of lime", "whole-limes", 20.0),
        ("1/2 lime", "whole-limes", 40.0),
        ("½ lime", "whole-limes", 40.0),
        ("1 sugar cube", "sugar-cube", 2.5),
        ("5 raspberries", "raspberries", 9.5),
        ("3 slices of cucumber", "cucumber", 21.0),
        ("1 egg white", "egg-white", 31.9),
        ("1 piece egg white", "egg-white", 31.9),
        ("2 olives", "olive", 8.0),
    ],
)
def test_pieces_weigh_what_the_library_says(line: str, key: str, amount: float) -> None:
    """Weights from ingredients/yields: USDA from memory, and common practice without a source."""
    found, weight = poured(line)
    assert found == key
    assert weight == pytest.approx(amount)


@pytest.mark.parametrize(
    ("line", "said"),
    [
        ("2 gin", "'2' has no unit"),
        ("1 wedge gin", "is not counted"),
        ("3 mint", "'3' has no unit"),
        ("3 cherry brandy", "has no unit"),
        ("1 leaf of lime juice", "is not"),
        ("0 mint leaves", "pours nothing"),
        ("1 lime wedge of gin", "is not"),
    ],
)
def test_what_is_not_counted_is_refused_with_the_reason(line: str, said: str) -> None:
    with pytest.raises(BadInput) as found:
        poured(line)
    assert said in str(found.value)


@pytest.mark.parametrize(("key", "cut"), CUTS)
def test_every_cut_that_has_a_weight_can_be_poured(key: str, cut: str) -> None:
    amount = parse_pour(f"2 {cut}", MEASURES)
    item, weight = LIBRARY.pieces.poured(LIBRARY.find(key), amount)
    assert item.key == key
    assert weight > 0


@given(count=st.integers(1, 40), key=st.sampled_from(["mint-leaves", "raspberries", "whole-limes"]))
def test_so_many_pieces_are_so_many_times_one(count: int, key: str) -> None:
    cut = {"mint-leaves": "leaf", "raspberries": "piece", "whole-limes": "wedge"}[key]
    one, all_of_them = (
        LIBRARY.pieces.poured(LIBRARY.find(key), parse_pour(f"{n} {cut}", MEASURES))[1]
        for n in (1, count)
    )
    assert all_of_them == pytest.approx(count * one)


def test_a_spec_that_counts_is_the_same_drink_as_one_that_weighs() -> None:
    bar = load_bar(None)
    drinks = [
        assess(
            Spec(
                name="a julep", technique="julep",
                pours=(SpecPour(ingredient="bourbon", amount="2 oz"),
                       SpecPour(ingredient=fruit, amount=wedge),
                       SpecPour(ingredient="mint-leaves", amount=mint)),
            ),
            bar,
        )
        for fruit, wedge, mint in (
            ("lime", "2 wedges", "8 leaves"), ("whole-limes", "20 g", "0.4 g"),
        )
    ]  # fmt: skip
    assert drinks[0].values == pytest.approx(drinks[1].values, nan_ok=True)
    assert drinks[0].lines[1].ingredient.name == "lime"
    assert drinks[0].guest.told.holds == drinks[1].guest.told.holds
