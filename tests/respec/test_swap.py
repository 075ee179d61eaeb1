"""Another bottle, the same drink: what holds of every swap."""

from __future__ import annotations

import itertools
from collections.abc import Mapping
from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest

from solver.drinks.assess import assess
from solver.errors import BadInput
from solver.mixture.drink import finish
from solver.pantry.profile import Profile
from solver.pantry.profile_files import find_profile
from solver.requests.request import curve_of
from solver.search.milp.cpsat import CpSat
from solver.search.problem import Floats
from solver.tasks.respec.rebalanced import Rebalanced
from solver.tasks.respec.repour import NEARLY
from solver.tasks.respec.shares import read_shares
from solver.tasks.respec.substitutes import Swap, of_different_kinds
from solver.tasks.respec.swap import split, swap
from tests.respec.specs import SPECS, approved_as, beyond, demo, poured, spec_of, with_twin

BAR = demo()
LINES = [
    (name, line.ingredient.key) for name in SPECS for line in assess(spec_of(name, BAR), BAR).lines
]
STAND_INS = {
    "rye-whiskey": ("bourbon", "gin", "gin-navy-strength", "vodka"),
    "bourbon": ("rye-whiskey", "gin", "peated-scotch"),
    "lemon-juice": ("lime-juice", "sharp-rhubarb-juice"),
    "almond-spice-syrup": ("simple-syrup", "rich-syrup", "honey-syrup-2-1"),
    "amaro": ("fernet", "red-bitter"),
    "light-orange-bitter": ("red-bitter",),
}


SWAPS = [(name, key, instead) for name, key in LINES for instead in STAND_INS.get(key, ())]


def swapped(name: str, out: str, instead: str) -> Rebalanced:
    (found,) = swap(spec_of(name, BAR), BAR, out, instead, CpSat()).found
    return found.result


def offered(name: str, out: str) -> tuple[Swap, ...]:
    return swap(spec_of(name, BAR), BAR, out, None, CpSat()).found


@pytest.mark.parametrize(("name", "key"), LINES)
def test_an_identical_bottle_changes_nothing(name: str, key: str) -> None:
    bar = with_twin(BAR, key)
    (found,) = swap(spec_of(name, bar), bar, key, "twin", CpSat()).found
    result, consequences = found.result, found.result.consequences
    assert result.held
    assert result.changed_pours == 1
    expected = {"twin" if k == key else k: v for k, v in poured(result.before).items()}
    assert poured(result.after) == pytest.approx(expected)
    assert result.after is not None
    assert result.after.values == pytest.approx(result.before.values)
    gained, lost = ([e.kind for e in side] for side in (consequences.gained, consequences.lost))
    assert gained == lost  # what is not known of a bottle is said by its name


@pytest.mark.parametrize(("name", "key"), LINES)
def test_a_bottle_swapped_for_itself_stays_as_written(name: str, key: str) -> None:
    result = swapped(name, key, key)
    assert result.held
    assert result.changed_pours == 0
    assert result.after is not None
    assert result.after.spec == spec_of(name, BAR)


@pytest.mark.parametrize(("name", "out", "instead"), SWAPS)
def test_the_drink_stays_within_its_range_or_the_answer_says_what_moves(
    name: str, out: str, instead: str
) -> None:
    result = swapped(name, out, instead)
    moved = {met.aim.measure.name for met in result.moved}
    assert moved == beyond(result, BAR)
    assert result.held == (not moved)
    assert bool(result.conflicts) == (not result.held)
    assert instead in poured(result.after)
    assert out not in poured(result.after)


@pytest.mark.parametrize(("name", "out", "instead"), SWAPS)
def test_there_and_back_changes_no_more_pours_than_the_original_needs(
    name: str, out: str, instead: str
) -> None:
    there = swapped(name, out, instead)
    assert there.after is not None
    middle = there.after.spec.model_copy(update={"approved": approved_as(there.before)})
    (back,) = swap(middle, BAR, instead, out, CpSat()).found
    assert back.result.held  # the original is there to be found
    original, between = poured(there.before), poured(there.after)
    others = [key for key in original if key != out]
    apart = 1 + sum(original[key] != between[key] for key in others)
    assert back.result.changed_pours <= apart
    if apart == 1 and original[out] == pytest.approx(between[instead]):
        assert poured(back.result.after) == pytest.approx(original)


def test_there_and_back_is_the_original_for_some_of_these() -> None:
    there = swapped("rope-store", "bourbon", "peated-scotch")
    assert there.changed_pours == 1
    assert poured(there.after)["peated-scotch"] == poured(there.before)["bourbon"]


QUARTERS = 7.5 * np.arange(1, 11)
DASHES = 0.9 * np.arange(1, 5)


@pytest.mark.parametrize(
    ("name", "out", "instead", "spans", "changes"),
    [
        # As the parts of the profiles have it, in the bar's ounces of 30 mL and dashes of 0.9 mL.
        ("rope-store", "bourbon", "gin", (QUARTERS[5:], QUARTERS[:2], DASHES), 1),
        ("rope-store", "bourbon", "vodka", (QUARTERS[5:], QUARTERS[:2], DASHES), 1),
        ("rope-store", "bourbon", "rye-whiskey", (QUARTERS[5:], QUARTERS[:2], DASHES), 1),
        (
            "weighbridge",
            "amaro",
            "red-bitter",
            (QUARTERS[3:], QUARTERS[:7], QUARTERS[:7], DASHES[:3]),
            2,
        ),
    ],
)
def test_no_pouring_at_all_keeps_the_drink_with_fewer_changes(
    name: str, out: str, instead: str, spans: tuple[Floats, ...], changes: int
) -> None:
    result = swapped(name, out, instead)
    before = result.before
    keys = [instead if key == out else key for key in poured(before)]
    items = [BAR.bottles.find(key) for key in keys]
    amounts = np.array(list(itertools.product(*spans)))
    totals = amounts @ np.array([item.composition() for item in items])
    made = finish(totals, None, curve_of(before.technique, BAR)).finished
    values = {"abv": made.abv_pct, "sugar": made.sugar_g_100ml, "acid": made.acid_g_100ml,
              "volume": made.volume_ml}  # fmt: skip
    wash_line = BAR.glass(before.glass or "").wash_line_ml
    kept = made.volume_ml <= wash_line
    for aim in result.kept.aims:
        kept &= np.abs(values[aim.measure.name] - aim.value) <= aim.tolerance
    own = np.array([0.0 if key == instead else poured(before)[key] for key in keys])
    changed = (np.abs(amounts - own) > 1e-9).sum(axis=1)
    assert result.held == bool(kept.any())
    if result.held:
        assert result.changed_pours == changed[kept].min() == changes
        return
    excess = np.zeros(len(amounts))
    for aim in result.kept.aims:
        distance = np.abs(values[aim.measure.name] - aim.value) / aim.tolerance
        excess += np.maximum(distance - 1.0, 0.0)
    least = excess[made.volume_ml <= wash_line].min()
    assert least - 1e-9 <= result.excess <= least + NEARLY * len(result.kept.aims) + 1e-9


def test_stand_ins_that_keep_the_drink_or_nearly_come_first_and_of_every_kind() -> None:
    found = offered("last-ferry", "almond-spice-syrup")
    assert found[0].result.held
    by_little = [each.result.held or each.result.nearly for each in found]
    assert by_little == sorted(by_little, reverse=True)
    assert {each.instead[0].kind for each in found} >= {"syrup/plain", "syrup/honey", "sugar"}
    shown = of_different_kinds(found, 4)
    assert len({each.instead[0].kind for each in shown}) == 4
    assert shown[0] is found[0]
    assert [found.index(each) for each in shown] == sorted(found.index(each) for each in shown)


def test_no_gin_stands_in_for_whiskey_in_an_old_fashioned_before_brandy_does() -> None:
    """Common practice, no source: gin as strong as the whiskey keeps its numbers alone."""
    kinds = [each.instead[0].kind for each in offered("rope-store", "bourbon")]
    assert kinds[0] == "spirit/whiskey"
    assert kinds.index("spirit/brandy") < kinds.index("spirit/gin")
    assert kinds.index("spirit/rum") < kinds.index("spirit/gin")


def test_what_the_figures_say_little_about_has_no_stand_in() -> None:
    assert offered("low-water", "soda-water") == ()
    assert offered("last-ferry", "heavy-cream") == ()


def test_a_drink_that_overfills_its_glass_already_may_go_on_doing_so() -> None:
    spec = spec_of("rope-store", BAR)
    long = spec.model_copy(update={"glass": "coupe", "technique": "shake"})
    small = BAR.with_wash_line("coupe", 60.0)
    (found,) = swap(long, small, "bourbon", "rye-whiskey", CpSat()).found
    assert found.result.kept.overfull
    assert found.result.held
    approved = long.model_copy(update={"approved": approved_as(found.result.before)})
    (held,) = swap(approved, small, "bourbon", "rye-whiskey", CpSat()).found
    assert not held.result.held
    assert held.result.after is None or (held.result.after.values["volume"] or 0.0) <= 60.0 + 1e-6


def test_nuts_that_leave_a_drink_are_said_and_so_is_honey_that_comes() -> None:
    result = swapped("last-ferry", "almond-spice-syrup", "honey-syrup-2-1")
    assert "contains nuts" in {each.says for each in result.consequences.lost}
    assert "of animal origin: honey" in {each.says for each in result.consequences.gained}


@pytest.mark.parametrize(
    ("spec", "out", "among", "share"),
    [
        ("rope-store", "bourbon", "bourbon + rye-whiskey", 1 / 2),
        ("rope-store", "bourbon", "bourbon + gin-navy-strength", 1 / 2),
        ("rope-store", "bourbon", "1/4 bourbon + gin-navy-strength", 1 / 4),
        ("rope-store", "bourbon", "2/3 bourbon + apple-brandy", 2 / 3),
        ("rope-store", "bourbon", "70% bourbon + cognac", 0.7),
    ],
)
def test_a_split_keeps_the_total_and_no_ratio_nearer_to_its_shares_keeps_the_drink(
    spec: str, out: str, among: str, share: float
) -> None:
    own = spec_of(spec, BAR)
    swaps = split(own, BAR, out, among, CpSat())
    (found,) = swaps.found
    keys = [item.key for item in found.instead]
    pours = poured(found.result.after)
    assert sum(pours[key] for key in keys) == pytest.approx(60.0)
    assert found.result.held
    first, syrup, bitters = own.pours
    off: list[float] = []
    for quarters, sweet in itertools.product(range(1, 8), (7.5, 15.0)):
        amounts = (7.5 * quarters, 60 - 7.5 * quarters)
        base = [
            first.model_copy(update={"ingredient": key, "amount": f"{amount} ml"})
            for key, amount in zip(keys, amounts, strict=True)
        ]
        lines = (*base, syrup.model_copy(update={"amount": f"{sweet} ml"}), bitters)
        made = assess(own.model_copy(update={"pours": lines}), BAR)
        if not found.result.kept.moved(made.values):
            off.append(abs(amounts[0] - share * 60))
    assert abs(pours[keys[0]] - share * 60) == pytest.approx(min(off), abs=1e-6)
    assert swaps.at_shares == (min(off) < 1e-6)


def test_what_no_share_is_stated_of_shares_the_rest_evenly() -> None:
    assert read_shares("rye + bourbon") == (("rye", "bourbon"), (0.5, 0.5))
    names, shares = read_shares("1/2 rye + bourbon +  apple  brandy")
    assert names == ("rye", "bourbon", "apple brandy")
    assert shares == pytest.approx((0.5, 0.25, 0.25))
    assert read_shares("60% rye + 40% bourbon")[1] == pytest.approx((0.6, 0.4))


@pytest.mark.parametrize(
    "among", ["2/3 rye + 2/3 bourbon", "1/3 rye + 1/3 gin", "1/1 rye + gin", "0/2 rye + gin",
              "1/0 rye + gin"],
)  # fmt: skip
def test_shares_that_do_not_come_to_one_are_refused(among: str) -> None:
    with pytest.raises(BadInput, match="do not come to one"):
        read_shares(among)


def test_what_is_poured_already_takes_the_place_of_what_goes() -> None:
    spec = spec_of("weighbridge", BAR)
    (found,) = swap(spec, BAR, "amaro", "sweet-vermouth", CpSat()).found
    pours = poured(found.result.after)
    assert set(pours) == {"aged-rum", "sweet-vermouth", "orange-bitters"}
    assert pours["sweet-vermouth"] > poured(found.result.before)["sweet-vermouth"]


def test_even_a_line_that_never_moves_takes_over_what_goes() -> None:
    spec = spec_of("weighbridge", BAR)
    pours = tuple(
        pour.model_copy(update={"moves": "never"} if pour.ingredient == "sweet-vermouth" else {})
        for pour in spec.pours
    )
    (found,) = swap(
        spec.model_copy(update={"pours": pours}), BAR, "amaro", "sweet-vermouth", CpSat()
    ).found
    pours_now = poured(found.result.after)
    assert pours_now["sweet-vermouth"] > poured(found.result.before)["sweet-vermouth"]


def test_a_split_among_what_is_poured_already_shares_all_of_it() -> None:
    spec = spec_of("weighbridge", BAR)
    (found,) = split(spec, BAR, "amaro", "amaro + sweet-vermouth", CpSat()).found
    before, after = poured(found.result.before), poured(found.result.after)
    assert set(after) == set(before)
    assert after["amaro"] + after["sweet-vermouth"] == pytest.approx(22.5 + 15.0)
    assert found.result.held
    assert found.result.changed_pours == 0


def test_an_ingredient_that_is_poured_twice_stays_two_lines() -> None:
    spec = spec_of("low-water", BAR)
    again = spec.pours[2].model_copy(update={"amount": "1/2 oz", "stage": "top"})
    more = {"pours": (*spec.pours, again), "technique": "stir-top"}
    twice = spec.model_copy(update=more)
    (found,) = swap(twice, BAR, "light-orange-bitter", "red-bitter", CpSat()).found
    rows = found.result.lines
    assert [row.line.ingredient.key for row in rows] == [
        "light-orange-bitter", "red-bitter", "sparkling-wine", "soda-water", "soda-water",
    ]  # fmt: skip
    assert [row.now is None for row in rows] == [True, False, False, False, False]
    assert [row.line.top for row in rows[-2:]] == [False, True]
    (itself,) = swap(twice, BAR, "sparkling-wine", "sparkling-wine", CpSat()).found
    assert itself.result.changes == ()


@pytest.mark.parametrize(
    ("among", "says"),
    [
        ("apple-brandy", "does not split"),
        ("bourbon + bourbon", "does not split"),
        ("bourbon + demerara-sugar", "measured in g"),
        ("bourbon + moonshine", "not an ingredient"),
    ],
)
def test_a_split_that_is_none_is_refused(among: str, says: str) -> None:
    with pytest.raises(BadInput, match=says):
        split(spec_of("harbour-light", BAR), BAR, "rye-whiskey", among, CpSat())


def test_what_a_spec_does_not_pour_is_refused_with_what_it_pours() -> None:
    with pytest.raises(BadInput, match="It pours aged-rum"):
        swap(spec_of("weighbridge", BAR), BAR, "gin", None, CpSat())


def test_a_swap_reads_its_profile_once(monkeypatch: pytest.MonkeyPatch) -> None:
    read: list[str] = []

    def counted(name: str, files: Mapping[str, Path]) -> Profile:
        read.append(name)
        return find_profile(name, files)

    monkeypatch.setattr("solver.pantry.bar.find_profile", counted)
    bar = demo()
    assert len(swap(spec_of("rope-store", bar), bar, "bourbon", None, CpSat()).found) > 1
    assert read == ["old-fashioned"]


@pytest.mark.parametrize("text", ["<=2.60", "<=2.70", "<=3", "12% below now", "0% below"])
@pytest.mark.parametrize("among", ["bourbon + rye-whiskey", "bourbon + apple-brandy"])
def test_a_split_costs_no_more_than_it_may_or_no_ratio_does(among: str, text: str) -> None:
    spec = spec_of("rope-store", BAR)
    swaps = split(spec, BAR, "bourbon", among, CpSat(), cost=text)
    (found,), cost = swaps.found, swaps.cost
    assert cost is not None
    assert cost.now == pytest.approx(assess(spec, BAR).values["cost"])
    if text.startswith("12%"):
        assert cost.most == pytest.approx(0.88 * cost.now)
    first, syrup, bitters = spec.pours
    kept: list[float] = []
    for quarters, sweet in itertools.product(range(1, 8), (7.5, 15.0)):
        shares = (7.5 * quarters, 60 - 7.5 * quarters)
        base = [
            first.model_copy(update={"ingredient": key, "amount": f"{share} ml"})
            for key, share in zip(among.split(" + "), shares, strict=True)
        ]
        pours = (*base, syrup.model_copy(update={"amount": f"{sweet} ml"}), bitters)
        made = assess(spec.model_copy(update={"pours": pours}), BAR)
        if not found.result.kept.moved(made.values):
            kept.append(made.values["cost"] or 0.0)
    assert kept
    assert cost.kept == (min(kept) <= cost.most + 1e-9)
    assert found.result.after is not None
    spent = found.result.after.values["cost"] or 0.0
    assert found.result.held
    assert spent <= cost.most + 1e-9 if cost.kept else spent == pytest.approx(min(kept))


@pytest.mark.parametrize(
    ("text", "says"),
    [
        ("2.60", "not the most that it may cost"),
        (">=2", "not the most that it may cost"),
        ("12% above", "12% above"),
    ],
)
def test_a_cost_that_is_no_limit_is_refused(text: str, says: str) -> None:
    with pytest.raises(BadInput, match=says):
        split(spec_of("rope-store", BAR), BAR, "bourbon", "bourbon + gin", CpSat(), cost=text)


def test_a_split_without_a_price_is_refused_where_the_cost_is_asked_about() -> None:
    bar = replace(BAR, stock=tuple(replace(row, price=None) for row in BAR.stock))
    with pytest.raises(BadInput, match="there is no price for bourbon whiskey"):
        split(spec_of("rope-store", BAR), bar, "bourbon", "bourbon + gin", CpSat(), cost="<=3")
