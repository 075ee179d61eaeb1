"""A spec in another glass: scaled together, rounded together, and as strong, sweet and sharp."""

from __future__ import annotations

import itertools

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from solver.drinks.assess import Assessment, assess
from solver.errors import BadInput
from solver.pantry.bar import Bar
from solver.pantry.load_bar import load_bar
from solver.pantry.spec import Spec, SpecPour
from solver.search.milp.cpsat import CpSat
from solver.tasks.respec.scale import Scaled, saved, scale
from solver.tasks.respec.slots import FAR
from solver.tasks.respec.swap import swap
from tests.examples import examples
from tests.respec.specs import SPECS, demo, poured, spec_of

BAR = demo()
JIGGER_ML = [7.5 * step for step in range(1, 13)]
LONG_ML = [15.0 * step for step in range(1, 21)]
LONG = {"black-tea", "coffee", "sparkling-wine", "soda-water", "ginger-beer"}


def in_glass(spec: Spec, factor: float, bar: Bar = BAR) -> Scaled:
    """The spec in a glass of the same name whose line is so many times as high."""
    glass = assess(spec, bar).glass or ""
    line_ml = bar.glass(glass).wash_line_ml
    return scale(spec, bar, CpSat(), glass=f"{glass}={line_ml * factor:.6f} ml")


def ways(made: Assessment, times: float, tolerance: float) -> list[list[SpecPour]]:
    """Every way to round its lines of a jigger, worked out from the jigger's marks alone."""
    choices: list[list[SpecPour]] = []
    volume = (made.values["volume"] or 0.0) * times
    for line, pour in zip(made.lines, made.spec.pours, strict=True):
        low, high = (line.amount * times * (1 + side * tolerance / volume) for side in (-1, 1))
        middle = line.amount * times
        marks = LONG_ML if line.ingredient.key in LONG else JIGGER_ML
        inside = [
            mark
            for at, mark in enumerate(marks)
            if (at + 1 == len(marks) or marks[at + 1] > low) and (not at or marks[at - 1] < high)
        ]
        near = [mark for mark in inside if abs(mark - middle) <= FAR * middle] or inside
        choices.append([pour.model_copy(update={"amount": f"{mark} ml"}) for mark in near])
    return [list(each) for each in itertools.product(*choices)]


@pytest.mark.parametrize("name", ["dry-dock", "low-water", "pilot-cutter"])
@pytest.mark.parametrize("factor", [0.7, 0.85, 1.15])
def test_no_other_rounding_keeps_the_drink_better(name: str, factor: float) -> None:
    spec = spec_of(name, BAR)
    if name == "dry-dock":  # its foam is rounded by itself
        spec = spec.model_copy(update={"pours": spec.pours[:3]})
    found = in_glass(spec, factor)
    kept, before = found.result.kept, found.result.before
    volume = kept.aims[-1]
    off: list[float] = []
    for pours in ways(before, found.times, volume.tolerance):
        made = assess(before.spec.model_copy(update={"pours": tuple(pours)}), BAR)
        fits = (made.values["volume"] or 0.0) <= (found.line_ml or 0.0)
        if fits and not kept.moved(made.values):
            off.append(sum(abs(met.distance or 0.0) for met in kept.met(made.values)))
    assert found.result.held == bool(off)
    if off:
        assert found.result.off == pytest.approx(min(off), abs=1e-5)


@settings(max_examples=examples(0.25))
@given(name=st.sampled_from(SPECS), factor=st.floats(0.4, 1.8))
def test_a_scaled_drink_fits_and_says_what_it_does_not_keep(name: str, factor: float) -> None:
    found = in_glass(spec_of(name, BAR), factor)
    result = found.result
    assert result.after is not None
    assert (result.after.values["volume"] or 0.0) <= (found.line_ml or 0.0) + 1e-6
    assert result.held == (not result.moved)
    assert [line.ingredient for line in result.after.lines] == [
        line.ingredient for line in result.before.lines
    ]


def test_a_daiquiri_of_180_ml_in_a_glass_of_150() -> None:
    """50, 20 and 15 mL: common practice, no source."""
    bar = load_bar(None).with_pour_set("five-ml").with_wash_line("coupe", 180.0)
    pours = (("white-rum", "60 ml"), ("lime-juice", "25 ml"), ("simple-syrup", "20 ml"))
    spec = Spec(
        name="Daiquiri",
        profile="sour",
        glass="coupe",
        pours=tuple(SpecPour(ingredient=key, amount=amount) for key, amount in pours),
    )
    found = scale(spec, bar, CpSat(), glass="coupe=150 ml")
    assert found.result.held
    assert list(poured(found.result.after).values()) == pytest.approx([50.0, 20.0, 15.0])


def test_a_glass_is_as_full_as_the_old_one_where_the_bar_has_measured_both() -> None:
    spec = spec_of("harbour-light", BAR)
    was = (assess(spec, BAR).values["volume"] or 0.0) / 175.0
    measured = scale(spec, BAR, CpSat(), glass="coupe=130 ml")
    assert measured.share == pytest.approx(was)
    assert measured.result.kept.aims[-1].value == pytest.approx(was * 130.0)
    assert scale(spec, BAR, CpSat(), glass="nick-and-nora").share is None


def test_glasses_that_take_other_ice_cannot_be_compared_though_both_are_measured() -> None:
    spec = spec_of("low-water", BAR)
    old = assess(spec, BAR).glass or ""
    other = next(g for g in BAR.glasses.values() if g.serve != BAR.glass(old).serve)
    alike = next(
        g for g in BAR.glasses.values() if g.serve == BAR.glass(old).serve and g.name != old
    )
    bar = BAR.with_wash_line(old, BAR.glass(old).wash_line_ml + 1.0)
    for glass, compared in ((other, False), (alike, True)):
        own = f"{glass.name}={glass.wash_line_ml + 1.0:.1f} ml"
        assert (scale(spec, bar, CpSat(), glass=own).share is not None) == compared


def test_what_fits_as_it_is_stays_as_it_is() -> None:
    spec = spec_of("weighbridge", BAR)
    found = scale(spec, BAR, CpSat(), glass="nick-and-nora")
    assert found.times == 1.0
    assert found.result.changes == ()
    assert saved(found, "Weighbridge, small") == spec.model_copy(
        update={"name": "Weighbridge, small", "glass": "nick-and-nora", "tasted": ()}
    )


def test_an_egg_is_an_egg_and_dashes_are_rounded_by_themselves() -> None:
    pours = (
        ("aged-rum", "2 oz"), ("simple-syrup", "1/2 oz"), ("whole-egg", "1 piece"),
        ("aromatic-bitters", "2 dashes"),
    )  # fmt: skip
    spec = Spec(
        name="a flip",
        profile="flip",
        glass="collins",
        pours=tuple(SpecPour(ingredient=key, amount=amount) for key, amount in pours),
    )
    for factor, dashes in ((0.75, 2), (0.6, 1), (1.25, 3)):
        volume = (assess(spec, BAR).values["volume"] or 0.0) * factor
        found = scale(spec, BAR, CpSat(), volume=f"{volume:.4f} ml")
        after = poured(found.result.after)
        assert after["whole-egg"] == poured(found.result.before)["whole-egg"]
        assert after["aromatic-bitters"] == pytest.approx(0.9 * dashes)


def test_equal_parts_stay_equal() -> None:
    pours = ("gin", "red-bitter", "sweet-vermouth")
    spec = Spec(
        name="equal",
        profile="equal-parts",
        pours=tuple(SpecPour(ingredient=key, amount="1 oz") for key in pours),
    )
    smaller = scale(spec, BAR, CpSat(), volume="90 ml").result
    (other,) = swap(spec, BAR, "gin", "gin-navy-strength", CpSat()).found
    for result in (smaller, other.result):
        assert len(set(poured(result.after).values())) == 1


@pytest.mark.parametrize(
    ("asked", "says"),
    [
        ({"glass": "bucket"}, "'bucket' is not a glass"),
        ({"glass": "coupe=0 ml"}, "holds nothing"),
        ({"glass": "coupe="}, "does not say how much it holds"),
        ({"volume": "0 ml"}, "is none"),
        ({"volume": "1 l"}, "more than the coupe takes"),
    ],
)
def test_what_is_no_glass_is_refused(asked: dict[str, str], says: str) -> None:
    with pytest.raises(BadInput, match=says):
        scale(
            spec_of("harbour-light", BAR),
            BAR,
            CpSat(),
            glass=asked.get("glass"),
            volume=asked.get("volume"),
        )


def held_still(name: str, *still: int) -> Spec:
    """A spec some of whose pours, by place, never move."""
    spec = spec_of(name, BAR)
    pours = [
        pour.model_copy(update={"moves": "never"}) if at in still else pour
        for at, pour in enumerate(spec.pours)
    ]
    return spec.model_copy(update={"pours": tuple(pours)})


@pytest.mark.parametrize("still", [0, 1])
def test_a_pour_that_never_moves_by_its_spec_is_not_scaled(still: int) -> None:
    for factor in (0.9, 1.1):
        free = in_glass(spec_of("low-water", BAR), factor).result.lines
        held = in_glass(held_still("low-water", still), factor).result.lines
        assert held[still].was == held[still].now
        assert any(change.was != change.now for change in held)
        assert any(change.was != change.now for change in free)
    wide = in_glass(spec_of("low-water", BAR), 1.3).result.lines
    assert wide[still].was != wide[still].now  # where its spec does not say so, it moves


def test_where_no_pour_may_move_nothing_fits_a_smaller_glass() -> None:
    spec = spec_of("pilot-cutter", BAR)
    still = held_still("pilot-cutter", *range(len(spec.pours)))
    assert not in_glass(still, 0.7).result.held
