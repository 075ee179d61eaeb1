"""Recipe and readings brought together, or said to contradict each other."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from solver.kitchen.batch import brix, mass_g
from solver.kitchen.cooking import Add, Boil, Cooked, Cooking, Input, Strain
from solver.kitchen.reconcile import BatchReading, Fit, ReadingKind, _allowed, clashes, reconcile
from solver.mixture.numeric import Floats
from tests.kitchen.strategies import PULP_GRAM, SUGAR_GRAM, WATER_GRAM, cookings

COOKING = Cooking(
    (
        Input("sugar", 1000, 1, SUGAR_GRAM),
        Input("water", 1000, 1, WATER_GRAM),
        Input("pulp", 200, 1, PULP_GRAM, sugar_sd=0.005, holds=4.0),
    ),
    (Add(0), Add(1), Add(2), Boil(200, 100), Strain(0.03, 0.6, 0.0)),
)
BOIL, STRAIN = 3, 4


def readings(truth: Floats, *kinds: ReadingKind) -> list[BatchReading]:
    """Exact readings of what comes out for a guess."""
    outcome = COOKING.run(truth[np.newaxis])
    deviations = {
        ReadingKind.WEIGHT: 1.0,
        ReadingKind.VOLUME: 10.0,
        ReadingKind.BRIX: 0.3,
        ReadingKind.LOST: 1,
        ReadingKind.LEFT: 3,
    }
    steps = {ReadingKind.LOST: BOIL, ReadingKind.LEFT: STRAIN}
    found = []
    for kind in kinds:
        blank = BatchReading(kind, 0.0, deviations[kind], steps.get(kind))
        value = float(blank.predicted(outcome)[0])
        found.append(BatchReading(kind, value, blank.sd, blank.step))
    return found


def lost(steam: float, held: float) -> Floats:
    """A guess with everything as stated but the two losses, as standard scores."""
    scores = np.zeros(COOKING.unknowns)
    scores[list(COOKING.losses())] = steam, held
    return scores


def steam_and_leavings(outcome: Cooked) -> Floats:
    return np.stack([outcome.steam_g[BOIL], mass_g(outcome.left[STRAIN])], axis=-1)


@given(st.floats(-1.5, 3), st.floats(-1.2, 3))
def test_weight_and_brix_tell_steam_from_leavings(steam: float, held: float) -> None:
    truth = lost(steam, held)
    fit = reconcile(COOKING, readings(truth, ReadingKind.WEIGHT, ReadingKind.BRIX))
    values, sds = fit.figures(COOKING, steam_and_leavings)
    wanted = steam_and_leavings(COOKING.run(truth[np.newaxis]))[0]
    assert np.all(np.abs(values - wanted) <= 2 * sds + 1)
    assert np.all(sds < 25)


def test_a_weight_alone_shares_the_loss_as_usual_and_says_how_little_it_knows() -> None:
    fit = reconcile(COOKING, readings(lost(1, 1), ReadingKind.WEIGHT))
    _, alone = fit.figures(COOKING, steam_and_leavings)
    both = reconcile(COOKING, readings(lost(1, 1), ReadingKind.WEIGHT, ReadingKind.BRIX))
    _, known = both.figures(COOKING, steam_and_leavings)
    assert np.all(alone > 2 * known)


def test_without_readings_the_answer_is_the_usual_one() -> None:
    fit = reconcile(COOKING, [])
    assert fit.scores == pytest.approx(np.zeros(COOKING.unknowns))
    values, sds = fit.figures(COOKING, steam_and_leavings)
    assert values[0] == pytest.approx(200)
    assert sds[0] == pytest.approx(100, rel=0.02)
    assert fit.misfit == 0


def test_two_weighings_of_one_thing_meet_at_their_weighted_mean() -> None:
    # the closed form: a mean weighted with the inverse squares of the deviations
    still = Cooking((Input("water", 1000, 4.0, WATER_GRAM),), (Add(0),))
    fit = reconcile(still, [BatchReading(ReadingKind.WEIGHT, 1006, 2.0)])
    values, sds = fit.figures(still, lambda o: mass_g(o.batch)[:, np.newaxis])
    assert values[0] == pytest.approx((1000 / 16 + 1006 / 4) / (1 / 16 + 1 / 4))
    assert sds[0] == pytest.approx(1 / math.sqrt(1 / 16 + 1 / 4))


@given(cookings())
def test_another_reading_never_makes_less_certain(cooking: Cooking) -> None:
    def dissolved(outcome: Cooked) -> Floats:
        return np.stack([mass_g(outcome.batch), brix(outcome.batch)], axis=-1)

    out = cooking.usual()
    weight = BatchReading(ReadingKind.WEIGHT, float(mass_g(out.batch)[0]), 1.0)
    shown = BatchReading(ReadingKind.BRIX, float(brix(out.batch)[0]), 0.3)
    fewer, more = reconcile(cooking, [weight]), reconcile(cooking, [weight, shown])
    assert np.all(
        more.figures(cooking, dissolved)[1] <= fewer.figures(cooking, dissolved)[1] * 1.001 + 1e-9
    )


@given(st.floats(-1.5, 3), st.floats(-1.2, 3))
def test_true_readings_do_not_contradict_each_other(steam: float, held: float) -> None:
    every = readings(lost(steam, held), *ReadingKind)
    assert clashes(COOKING, every) == ()


@given(
    st.sampled_from([ReadingKind.WEIGHT, ReadingKind.BRIX, ReadingKind.VOLUME]),
    st.sampled_from([-1, 1]),
)
def test_one_wrong_reading_among_many_is_found_and_put_right(kind: ReadingKind, sign: int) -> None:
    every = readings(lost(0.5, 0.5), *ReadingKind)
    at = next(i for i, reading in enumerate(every) if reading.kind is kind)
    true = every[at]
    off = 12 * max(true.sd, 2.0)
    every[at] = BatchReading(kind, true.value + sign * off, true.sd)
    found = clashes(COOKING, every)
    assert found
    assert found[0].reading.kind is kind
    assert found[0].implied == pytest.approx(true.value, abs=3 * found[0].implied_sd + 1e-6)


def test_more_out_than_in_is_a_contradiction_though_only_one_thing_was_measured() -> None:
    found = clashes(COOKING, [BatchReading(ReadingKind.WEIGHT, 2260, 2.0)])
    assert [clash.reading.kind for clash in found] == [ReadingKind.WEIGHT]


def test_a_loss_unlike_the_usual_one_is_no_contradiction() -> None:
    assert clashes(COOKING, [BatchReading(ReadingKind.WEIGHT, 1300, 1.0)]) == ()
    assert clashes(COOKING, readings(lost(-1.99, -1.6), ReadingKind.WEIGHT, ReadingKind.BRIX)) == ()


def test_a_step_never_gives_back_what_it_did_not_take() -> None:
    fit: Fit = reconcile(COOKING, [BatchReading(ReadingKind.WEIGHT, 2199, 2.0)])
    outcome = COOKING.run(fit.scores[np.newaxis])
    assert float(outcome.steam_g[BOIL][0]) >= 0
    assert float(mass_g(outcome.left[STRAIN])[0]) >= 0


def test_readings_beyond_the_losses_allow_what_chance_exceeds_once_in_a_thousand() -> None:
    """Chi-squared with three degrees of freedom: 16.27, standard tables, from memory."""
    every = readings(lost(0.5, 0.5), *ReadingKind)
    assert (len(every), len(COOKING.losses())) == (5, 2)
    assert _allowed(COOKING, every) == 16.27
    assert _allowed(COOKING, every[:2]) == 10.83  # nothing to spare counts as one
