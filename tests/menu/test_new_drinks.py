"""New drinks for a menu are on target, and some suit each guest."""

from __future__ import annotations

from pathlib import Path

import pytest

from solver.clock import Clock
from solver.pantry.avoidance import Avoidance
from solver.pantry.bar import Bar
from solver.search.milp.cpsat import CpSat
from solver.tasks.menu import new_drinks
from solver.tasks.menu.new_drinks import FoundDrink, NewDrinks, pourable
from tests.plan.bars import bar_in, on

SHELF = (
    "gin,700 ml,20,9 bottles\nlime-juice,1 l,8,9 bottles\nsimple-syrup,1 l,1,9 bottles\n"
    "honey-syrup,1 l,1,9 bottles\n"
)


@pytest.fixture
def bar(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Bar:
    """A bar that makes sours of gin, and nothing else."""
    bar = bar_in(tmp_path, SHELF)
    monkeypatch.setattr(new_drinks, "readable_profiles", lambda _: ((bar.profile("sour"),), ()))
    return bar


def found(bar: Bar, most_cost: float | None = None, *guests: Avoidance) -> list[FoundDrink]:
    drinks = NewDrinks(bar, 10, most_cost, CpSat())
    return list(drinks.of(["gin"], guests, Clock.of(60)))


def test_what_can_only_be_had_off_target_for_the_money_is_not_designed(bar: Bar) -> None:
    assert found(bar, 1.2) == []  # a sour of 37 mL of gin is far too weak


def test_a_guest_who_avoids_what_is_usual_gets_a_drink_without_it(bar: Bar) -> None:
    poured = [
        {pour.ingredient.key for pour in each.answer.pours}
        for each in found(bar, None, bar.avoidable.word("simple syrup"))
    ]
    assert "simple-syrup" in poured[0]
    assert {"gin", "lime-juice", "honey-syrup"} in poured


@pytest.mark.parametrize("there", [False, True])
def test_no_drink_is_offered_without_the_leaves_that_make_it(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, there: bool
) -> None:
    bar = bar_in(tmp_path, SHELF + ("mint-leaves,50 g,3,2 bottles\n" if there else ""))
    monkeypatch.setattr(new_drinks, "readable_profiles", lambda _: ((bar.profile("julep"),), ()))
    assert bool(found(bar)) == there


def test_a_profile_that_is_only_for_a_longer_drink_is_offered_nowhere_else(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    bar = bar_in(tmp_path, f"{SHELF}soda-water,1 l,1,9 bottles\norange-liqueur,1 l,9,9 bottles\n")
    long = bar.profile("daisy-long")
    assert long.only_longer
    monkeypatch.setattr(new_drinks, "readable_profiles", lambda _: ((long,), ()))
    assert found(bar) == []
    offered = long.model_copy(update={"only_longer": False})
    monkeypatch.setattr(new_drinks, "readable_profiles", lambda _: ((offered,), ()))
    assert found(bar) != []


@pytest.mark.parametrize("priced", [False, True])
def test_where_a_margin_is_asked_nothing_without_a_price_is_poured(
    tmp_path: Path, priced: bool
) -> None:
    bar = bar_in(tmp_path, f"{SHELF}white-rum,700 ml,,9 bottles\n")
    there = pourable(bar, ["gin"], on(3), buying=False, priced=priced)
    assert (there.stocked("white-rum") is None) == priced
    assert there.stocked("gin") is not None


@pytest.mark.parametrize(("last", "kept"), [(-1, False), (9, True)])
def test_juice_that_ends_early_is_poured_only_where_there_is_fruit_for_more(
    tmp_path: Path, last: int, kept: bool
) -> None:
    shelf = SHELF.replace("lime-juice,1 l,8,9 bottles", f"lime-juice,1 l,8,500 ml,,{on(0)}")
    bar = bar_in(tmp_path, f"{shelf}whole-limes,1 kg,4,1 kg,,{on(last)}\n")
    there = pourable(bar, ["gin"], on(3), buying=False, priced=True)
    juice = there.stocked("lime-juice")
    assert (juice is not None) == kept
    if juice is not None:  # what is pressed anew has no end
        assert (juice.on_hand, juice.dated) == (None, None)
