"""Acids: what is stated of each, and shares that do not add up."""

from __future__ import annotations

import pytest

from solver.mixture import ACIDS, UnknownAcid
from solver.mixture.acids import mass_and_volume

BASES = {"published", "computed", "estimate"}


@pytest.mark.parametrize("name", ACIDS)
def test_every_acid_states_its_source(name: str) -> None:
    acid = ACIDS[name]
    assert acid.name == name
    assert acid.basis in BASES
    assert acid.source
    assert ("estimate" in acid.source) == (acid.basis == "estimate")


def test_a_mixed_acid_weighs_as_its_parts() -> None:
    grams, millilitres = mass_and_volume(6.0, {"citric": 0.75, "malic": 0.25})
    citric, malic = mass_and_volume(4.5, {"citric": 1.0}), mass_and_volume(1.5, {"malic": 1.0})
    assert grams == pytest.approx(citric[0] + malic[0])
    assert millilitres == pytest.approx(citric[1] + malic[1])


def test_crystal_water_counts_as_mass_and_not_as_acid() -> None:
    assert mass_and_volume(1.0, {"citric-monohydrate": 1.0})[0] == pytest.approx(1.094, abs=5e-4)


@pytest.mark.parametrize("shares", [{}, {"citric": 0.9}, {"citric": 1.2, "malic": -0.2}])
def test_shares_that_do_not_add_up_are_refused(shares: dict[str, float]) -> None:
    with pytest.raises(ValueError, match="add up to 1"):
        mass_and_volume(1.0, shares)


def test_shares_do_not_matter_where_there_is_no_acid() -> None:
    assert mass_and_volume(0.0, {}) == (0.0, 0.0)


def test_an_unknown_acid_is_named_with_those_there_are() -> None:
    with pytest.raises(UnknownAcid, match=r"'citrc'.*citric, .*malic"):
        mass_and_volume(1.0, {"citrc": 1.0})
