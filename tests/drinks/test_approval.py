"""What is recorded of an approved drink, and what counts as moved since."""

from __future__ import annotations

from datetime import date

import pytest

from solver.drinks.approval import approved_profile, moved

DAY = date(2026, 5, 8)
WAS: dict[str, float | None] = {
    "abv": 18.0, "sugar": 8.0, "acid": 0.8, "volume": 100.0, "ethanol": 14.2, "cost": 2.0,
}  # fmt: skip


def test_one_decimal_more_than_is_shown_is_recorded() -> None:
    exact = {
        "abv": 18.1234, "sugar": 7.6543, "acid": 0.81234, "volume": 101.2345,
        "ethanol": 14.4321, "cost": 2.34567,
    }  # fmt: skip
    found = approved_profile(exact, DAY, "EUR")
    assert (found.abv_pct, found.sugar_g_100ml, found.acid_g_100ml) == (18.12, 7.65, 0.812)
    assert (found.volume_ml, found.ethanol_g, found.cost) == (101.2, 14.43, 2.346)
    assert (found.date, found.currency) == (DAY, "EUR")


def test_a_cost_that_is_not_known_has_no_currency() -> None:
    found = approved_profile({**WAS, "cost": None}, DAY, "EUR")
    assert (found.cost, found.currency) == (None, None)


@pytest.mark.parametrize(
    ("name", "noticed"),
    # a noticeable difference of each, as `solver.measures` says with its sources
    [("abv", 1.0), ("sugar", 0.8), ("acid", 0.08), ("volume", 10), ("ethanol", 1.4), ("cost", 0.2)],
)
def test_half_a_noticeable_difference_is_a_move_either_way_and_less_is_none(
    name: str, noticed: float
) -> None:
    approved = approved_profile(WAS, DAY, "EUR")
    then = WAS[name]
    assert then is not None
    for sign in (-1, 1):
        off = [
            moved(approved, {**WAS, name: then + sign * share * noticed}, "EUR")
            for share in (0.49, 0.51)
        ]
        assert off[0] == []
        assert [(each.measure.name, each.approved) for each in off[1]] == [(name, then)]
        assert off[1][0].now == pytest.approx(then + sign * 0.51 * noticed)


def test_prices_in_another_currency_and_prices_that_are_gone_are_not_compared() -> None:
    approved = approved_profile(WAS, DAY, "EUR")
    dear = {**WAS, "cost": 9.0}
    assert [each.measure.name for each in moved(approved, dear, "EUR")] == ["cost"]
    assert moved(approved, dear, "USD") == []
    assert moved(approved, {**WAS, "cost": None}, "EUR") == []
    assert moved(approved_profile(WAS, DAY, ""), dear, "EUR") == []
