"""What two are worth together: laws of the formula, and what the bar's word does to it."""

from __future__ import annotations

import math

import numpy as np
from hypothesis import given
from hypothesis import strategies as st

from solver.harmony.count_arrays import SHRINKAGE, CountArrays, worth
from solver.harmony.counted import load_counts
from solver.harmony.counts import Counts
from solver.harmony.flavours import Flavour, flavours_of
from solver.harmony.pairs import PairTable
from solver.harmony.taste import BarTaste, SaidOfIngredient
from solver.pantry.library import load_library
from tests.harmony.bars import made

COUNTS = load_counts()
LIBRARY = load_library()
SYRUP = made("pear-syrup", "syrup/fruit", "orchard")
SPICED = made("clove-syrup", "syrup/spice", "warm-spice")
NAMES = ("gin", "bourbon", "white-rum", "overproof-rum", "dry-vermouth", "lemon-juice", "grenadine")
FEW = [*(LIBRARY.find(name) for name in NAMES), SYRUP, SPICED]

counted = st.floats(0, 200)


def table(
    taste: BarTaste | None = None,
    own: tuple[frozenset[str], ...] = (),
    tasted: tuple[tuple[frozenset[str], int], ...] = (),
    stated: tuple[tuple[str, str], ...] = (),
) -> PairTable:
    found = flavours_of(FEW, COUNTS, taste or BarTaste(), ["pear-syrup"])
    flavours: list[Flavour] = sorted(set(found.values()), key=lambda each: each.name)
    return PairTable(flavours, CountArrays(COUNTS), taste or BarTaste(), own, tasted, stated)


def between(one: str, other: str, of: PairTable | None = None) -> float:
    of = of or table()
    return float(of.worths[of.index[one], of.index[other]])


@given(counted, counted, st.floats(-3, 3))
def test_meeting_as_often_as_chance_and_the_prior_say_is_worth_the_prior(
    met: float, expected: float, prior: float
) -> None:
    found = float(worth(np.array(expected * math.exp(prior)), np.array(expected), prior))
    assert math.isclose(found, prior, abs_tol=1e-9)
    nothing = float(worth(np.array(0.0), np.array(0.0), prior))
    assert math.isclose(nothing, prior, abs_tol=1e-9)
    assert math.isclose(
        float(worth(np.array(met), np.array(expected))),
        math.log((met + SHRINKAGE) / (expected + SHRINKAGE)),
        abs_tol=1e-9,
    )


@given(counted, counted, counted, st.floats(-3, 3))
def test_more_meetings_are_worth_more_and_more_by_chance_less(
    met: float, more: float, expected: float, prior: float
) -> None:
    def of(m: float, e: float) -> float:
        return float(worth(np.array(m), np.array(e), prior))

    assert of(met + more, expected) >= of(met, expected)
    assert of(met, expected + more) <= of(met, expected)


def test_worths_are_the_same_both_ways() -> None:
    assert np.array_equal(table().worths, table().worths.T)


def test_chance_goes_by_how_many_drinks_pour_each() -> None:
    """Gin is in 129 and dry vermouth in 50 of 716 drinks: 9.0 would pour both by chance, 21 do."""
    of = table()
    evidence = of.evidence(of.index["gin"], of.index["dry-vermouth"])
    assert evidence.printed is not None
    assert (evidence.printed.met, evidence.printed.drinks) == (21, 716)
    assert math.isclose(evidence.printed.expected, 129 * 50 / 716)
    assert evidence.worth == between("gin", "dry-vermouth") > 0.5


def test_kinds_and_families_are_counted_over_all_that_is_of_them() -> None:
    counts = Counts(
        drinks=20,
        poured={"a": 4, "b": 6, "c": 10},
        kind={"a": "x/one", "b": "x/two", "c": "y"},
        role={},
        met={("a", "b"): 2, ("a", "c"): 3, ("b", "c"): 1},
    )
    printed = CountArrays(counts)
    _, kinds, families = printed.tallies("a", "c")
    assert (kinds.met, kinds.expected) == (3, 4 * 10 / 20)
    assert (families.met, families.expected) == (4, (4 + 6) * 10 / 20)
    _, _, within = printed.tallies("a", "b")
    assert (within.met, within.expected) == (2, 4 * 6 / 20)


def test_nothing_is_known_of_what_the_house_makes() -> None:
    of = table()
    assert [between("pear-syrup", other, of) for other in ("gin", "lemon-juice", "grenadine")] == [
        0.0,
        0.0,
        0.0,
    ]
    assert of.evidence(of.index["gin"], of.index["pear-syrup"]).printed is None


def test_warm_spice_goes_with_the_cask_before_what_is_clear() -> None:
    """Common practice, no source."""
    assert between("clove-syrup", "bourbon") > 0
    assert between("clove-syrup", "gin") < 0 == between("clove-syrup", "white-rum")


def test_something_loud_drowns_a_syrup() -> None:
    """Common practice, no source: an overproof rum where a lighter one does not."""
    assert between("pear-syrup", "overproof-rum") < between("pear-syrup", "white-rum") == 0


def test_what_the_bar_says_goes_before_the_trades_rules() -> None:
    said = {"clove-syrup": SaidOfIngredient(goes_with=("spirit/gin",), not_with=("oak",))}
    of = table(BarTaste(said=said))
    assert between("clove-syrup", "gin", of) > 0 > between("clove-syrup", "bourbon", of)
    evidence = of.evidence(of.index["bourbon"], of.index["clove-syrup"])
    assert (evidence.said, evidence.practice) == (-1, "")


def test_like_takes_the_counts_of_another() -> None:
    of = table(BarTaste(said={"pear-syrup": SaidOfIngredient(like="grenadine")}))
    alike = next(each for each in of.flavours if "pear-syrup" in each.bottles)
    assert alike.name == "grenadine"
    words = SaidOfIngredient(like="grenadine", goes_with=("gin",))
    apart = table(BarTaste(said={"pear-syrup": words}))
    assert between("pear-syrup", "white-rum", apart) == between("grenadine", "white-rum")
    assert between("pear-syrup", "gin", apart) > between("grenadine", "gin")


def test_never_is_a_ban() -> None:
    of = table(BarTaste(said={"pear-syrup": SaidOfIngredient(never=("spirit/whiskey",))}))
    assert of.never[of.index["bourbon"], of.index["pear-syrup"]]
    assert of.never.sum() == 2


def test_what_a_profile_calls_usual_together_counts_for_it() -> None:
    of = table(stated=(("spirit/gin", "grenadine"),))
    assert between("gin", "grenadine", of) > between("gin", "grenadine")
    assert of.evidence(of.index["gin"], of.index["grenadine"]).stated


def test_the_bars_specs_count_for_more_than_a_books() -> None:
    drink = frozenset({"gin", "grenadine", "pear-syrup"})
    of = table(own=(drink,))
    assert between("gin", "grenadine", of) > between("gin", "grenadine")
    assert between("gin", "pear-syrup", of) > 0
    one_more = COUNTS.met.get(("gin", "grenadine"), 0) + 1
    printed = Counts(
        COUNTS.drinks + 1,
        {**COUNTS.poured, "gin": COUNTS.poured["gin"] + 1},
        COUNTS.kind,
        COUNTS.role,
        {**COUNTS.met, ("gin", "grenadine"): one_more},
    )
    flavours = table().flavours
    book = PairTable(flavours, CountArrays(printed), BarTaste())
    assert between("gin", "grenadine", of) > between("gin", "grenadine", book)


def test_a_tasting_counts_by_its_score() -> None:
    drink = frozenset({"gin", "pear-syrup"})
    worths = [
        between("gin", "pear-syrup", table(tasted=((drink, score),))) for score in (1, 2, 3, 4, 5)
    ]
    assert worths == sorted(worths)
    assert worths[2] == 0.0
    assert worths[0] < 0 < worths[4]


def of_two_syrups(of: PairTable) -> float:
    return between("clove-syrup", "pear-syrup", of)


def test_every_voice_counts_like_so_many_printed_drinks() -> None:
    """Of two that no book knows nothing else speaks: log((met + 5) / (missed + 5)). Our choice."""
    drink = frozenset({"clove-syrup", "pear-syrup"})
    liked = BarTaste(said={"clove-syrup": SaidOfIngredient(goes_with=("pear-syrup",))})
    disliked = BarTaste(said={"clove-syrup": SaidOfIngredient(not_with=("pear-syrup",))})
    assert math.isclose(of_two_syrups(table(liked)), math.log(15 / 5))
    assert math.isclose(of_two_syrups(table(disliked)), math.log(5 / 15))
    stated = table(stated=(("clove-syrup", "pear-syrup"),))
    assert math.isclose(of_two_syrups(stated), math.log(15 / 5))
    for score, odds in ((1, 5 / 10), (2, 5 / 7.5), (3, 1), (4, 7.5 / 5), (5, 10 / 5)):
        found = of_two_syrups(table(tasted=((drink, score),)))
        assert math.isclose(found, math.log(odds), abs_tol=1e-12)
    # the trade's word: warm spice goes with the cask
    assert math.isclose(between("clove-syrup", "bourbon"), math.log(15 / 5))
    by_chance = 5 * 5 / (COUNTS.drinks + 5)
    own = of_two_syrups(table(own=(drink,)))
    assert math.isclose(own, math.log((5 + 5) / (by_chance + 5)))


def test_both_of_a_pair_that_goes_together_are_meant_whichever_way_it_is_said() -> None:
    for one, other in (("clove-syrup", "pear-syrup"), ("pear-syrup", "clove-syrup")):
        assert of_two_syrups(table(stated=((one, other),))) > 0
        assert of_two_syrups(table(BarTaste(said={one: SaidOfIngredient(goes_with=(other,))}))) > 0
