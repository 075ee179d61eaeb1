"""How a drink varies, against each cause by itself and against the law of propagation."""

from __future__ import annotations

import json
from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest
from click.testing import CliRunner
from hypothesis import given
from hypothesis import strategies as st

from solver.cli.main import main
from solver.drinks.assess import Assessment, assess, find_drink
from solver.drinks.variation import AMOUNT, Judged, Variation, vary
from solver.measures import MEASURES
from solver.mixture.blend import LABEL, volume_ml
from solver.mixture.drink import finish
from solver.mixture.numeric import Floats
from solver.pantry.load_bar import load_bar
from solver.pantry.own_figures import with_own_figures
from solver.requests.request import curve_of
from solver.requests.spread_from_words import SaidSpread, read_spread

DEMO = Path(__file__).parents[2] / "demo"
BAR = load_bar(DEMO)
EXACT = SaidSpread(jigger_ml=0.0, melt=(1.0, 1.0))
SUGAR = {("lemon-juice", "sugar"): (2.6, 2.6)}
SOUR = ("2 oz gin", "3/4 oz lemon juice", "3/4 oz rhubarb syrup")


def assessed(*pours: str, profile: str | None = None, technique: str = "shake") -> Assessment:
    return assess(find_drink(pours, (), BAR), BAR, profile=profile, technique=technique)


def with_acid(hands: SaidSpread, low: float, high: float) -> SaidSpread:
    return replace(hands, figures={**SUGAR, ("lemon-juice", "acid"): (low, high)})


def poured(written: Assessment) -> Floats:
    each = [line.amount * line.ingredient.composition() for line in written.lines]
    return np.asarray(np.sum(each, axis=0))


def spread(found: Variation, name: str) -> tuple[float, float]:
    each = next(each for each in found.spreads if each.measure.name == name)
    return each.low, each.high


def test_where_nothing_strays_every_drink_is_as_assessed() -> None:
    written = assessed(*SOUR, profile="sour")
    found = vary(written, BAR, with_acid(EXACT, 6.0, 6.0))
    assert not found.strays
    assert found.chances.alike == found.chances.on_target == found.chances.within == 1
    for each in found.spreads:
        assert each.low == each.high == pytest.approx(written.values[each.measure.name])


def test_what_overflows_its_glass_is_not_on_target() -> None:
    written = assessed(*SOUR, profile="sour")
    volume, glass = written.values["volume"] or 0.0, written.glass or ""
    small = BAR.with_wash_line(glass, volume)
    found = vary(assess(written.spec, small, profile="sour"), small, SaidSpread())
    within = found.chances.within or 0.0
    assert 0.2 < within < 0.8
    assert (found.chances.on_target or 0.0) <= within


def test_a_share_is_the_length_of_the_range_in_which_the_drink_is_on_target() -> None:
    """Of one cause alone, with the exact evaluator asked all along its range."""
    written = assessed(*SOUR, profile="sour")
    found = vary(written, BAR, with_acid(EXACT, 4.0, 8.0))
    ends = np.linspace(4.0, 8.0, 201)
    on_target = 0
    for middle in (ends[1:] + ends[:-1]) / 2:
        lines = [
            replace(line, ingredient=with_own_figures(line.ingredient, {"acid": float(middle)}))
            if line.ingredient.key == "lemon-juice"
            else line
            for line in written.lines
        ]
        drink = assess(written.spec, BAR, profile="sour", technique="shake", pours=lines)
        on_target += drink.off_aim == 0
    assert 0 < on_target < 200
    assert found.chances.on_target == pytest.approx(on_target / 200, abs=0.01)


def test_a_share_of_melt_is_that_of_the_curve() -> None:
    written = assessed("2 oz rye", "1 oz sweet vermouth", technique="stir")
    found = vary(written, BAR, SaidSpread(jigger_ml=0.0, melt=(0.5, 1.5)))
    first = poured(written)
    factors = np.linspace(0.5, 1.5, 4001)
    curve = curve_of("stir", BAR)
    abv = np.array([float(finish(first, None, curve.scaled(f)).finished.abv_pct) for f in factors])
    usual = written.values["abv"] or 0.0
    each = next(each for each in found.spreads if each.measure.name == "abv")
    step = MEASURES["abv"].tolerance(usual)
    assert each.over == pytest.approx(float((abv > usual + step).mean()), abs=0.002)
    assert (each.low, each.high) == pytest.approx(tuple(np.quantile(abv, (0.05, 0.95))), abs=0.01)


@given(acid=st.floats(4.6, 6.5))
def test_juice_of_another_acid_is_close_to_a_label_that_is_read_anew(acid: float) -> None:
    """The composition is interpolated between both ends of a figure."""
    usual = BAR.bottles.find("lemon-juice")
    at = {a: with_own_figures(usual, {"acid": a}).composition() for a in (4.6, acid, 6.0, 6.5)}
    low, high = (4.6, 6.0) if acid < 6.0 else (6.0, 6.5)
    share = (acid - low) / (high - low)
    between = (1 - share) * at[low] + share * at[high]
    assert between == pytest.approx(at[acid], abs=1e-5)
    assert float(volume_ml(between)) == pytest.approx(1.0, abs=1e-5)


def test_independent_errors_add_up_by_the_law_of_propagation() -> None:
    """JCGM 100:2008 (GUM), 4.3.7 and 5.1.2: what lies evenly within ±a has the standard uncertainty
    a/√3, and independent ones add in squares. Without ice the volume is a sum of the pours, but for
    what ethanol and water contract."""
    written = assessed("60 ml gin", "30 ml lemon juice", "30 ml rhubarb syrup", technique="none")
    found = vary(written, BAR, SaidSpread(jigger_ml=3.0, figures={}))
    amounts = [stray for stray in found.strays if stray.what == AMOUNT]
    expected = np.sqrt(sum(((s.high - s.low) / 2) ** 2 / 3 for s in amounts))
    low, high = spread(found, "volume")
    # Of a sum of three even errors of one size, 90 % lie within 1.661 of its standard deviation
    # (integrating its density, a quadratic spline).
    assert (high - low) / 2 == pytest.approx(1.661 * expected, rel=0.02)
    assert sum(line.amount for line in written.lines) == pytest.approx(
        float(poured(written)[LABEL])
    )


@pytest.mark.parametrize(("small", "more"), [(0.1, 1.5), (1.0, 4.0)])
def test_a_worse_jigger_spreads_a_drink_further(small: float, more: float) -> None:
    written = assessed(*SOUR)
    steady = vary(written, BAR, SaidSpread(jigger_ml=small, melt=(1.0, 1.0)))
    shaky = vary(written, BAR, SaidSpread(jigger_ml=small * more, melt=(1.0, 1.0)))
    for name in ("abv", "sugar", "volume"):
        (low, high), (least, most) = spread(steady, name), spread(shaky, name)
        assert most - least > high - low


def test_what_steadies_a_drink_is_what_makes_it_stray() -> None:
    found = vary(
        assessed(*SOUR, profile="sour"), BAR, with_acid(SaidSpread(jigger_ml=0.1), 3.0, 9.0)
    )
    stray, share = found.steadier[0]
    assert (stray.what, share > found.chances.of(found.judged) + 0.2) == ("acid", True)


def test_a_drink_that_misses_its_target_is_not_held_to_it() -> None:
    written = assessed("2 oz gin", "1/4 oz lemon juice", "1/4 oz rhubarb syrup", profile="sour")
    assert vary(written, BAR, SaidSpread()).judged is not Judged.TARGET


def test_what_has_a_label_does_not_vary_and_what_is_pressed_does() -> None:
    found = vary(assessed(*SOUR), BAR, SaidSpread())
    figures = {(s.what, SOUR[s.line or 0]) for s in found.strays if s.what in ("abv", "acid")}
    assert figures == {("acid", SOUR[1])}


def test_a_document_says_shares_of_all_drawn_drinks() -> None:
    line = ["vary", "harbour-light", "--bar", str(DEMO), "--jigger", "1 ml", "--json"]
    answer = CliRunner().invoke(main, line)
    told = json.loads(answer.output)
    assert (answer.exit_code, told["task"], told["judged_by"]) == (0, "vary", "target")
    assert 0 < told["on_target"] < told["within_limits"] <= 1
    assert {"melt", "amount", "acid"} <= {stray["what"] for stray in told["strays"]}


@pytest.mark.parametrize(
    ("option", "text", "said"),
    [
        ("--melt", "2..3", "around 1"),
        ("--melt", "0.9", "no range of melt"),
        ("--figure", "lemon-juice=4..5", "names no figure"),
        ("--figure", "lemon-juice tartness=4..5", "is not a figure"),
        ("--figure", "lemon-juice acid=5 g/100ml", "no range"),
        ("--figure", "lemn-juice acid=4..5 g/100ml", "is not an ingredient"),
        ("--figure", "rye-whiskey strength=50..60%", "has 45 here"),
        ("--melt", "0..1e308", "no range of melt"),
        ("--jigger", "1", "no unit"),
    ],
)
def test_what_cannot_be_read_is_said(option: str, text: str, said: str) -> None:
    answer = CliRunner().invoke(main, ["vary", "harbour-light", "--bar", str(DEMO), option, text])
    assert answer.exit_code == 2
    assert said in " ".join(answer.output.split())


def test_figures_are_read_in_their_own_units() -> None:
    hands = read_spread(
        "0.5 ml", "0.7..1.3", ["lime juice acid=48..63 g/l", "gin strength=80..90 proof"], BAR
    )
    assert hands.jigger_ml == pytest.approx(0.5)
    assert hands.figures["lime-juice", "acid"] == pytest.approx((4.8, 6.3))
    assert hands.figures["gin", "abv"] == pytest.approx((40.0, 45.0))
