"""Assess a drink that exists: its measures in the glass, and how well it fits a profile."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from pathlib import Path

import numpy as np

from solver.drinks.approval import Moved, moved
from solver.drinks.fitting import Departure, departures, parts_filled
from solver.drinks.floated import Floated, floated
from solver.drinks.guest_notice import ForGuest, for_guest
from solver.drinks.uncertainty import Uncertainty, uncertainty
from solver.errors import BadInput
from solver.files.near_words import near_words
from solver.measures import MEASURES
from solver.mixture.drink import Drink
from solver.mixture.melt import TECHNIQUES, Technique
from solver.pantry.bar import Bar
from solver.pantry.pour import Pour, by_key
from solver.pantry.profile import Part, Profile
from solver.pantry.same_egg import in_eggs_of_other
from solver.pantry.spec import Spec, find_spec, is_spec_file, read_spec
from solver.pantry.spec_lines import begins_with_number, ends_like_a_pour, spec_of_lines
from solver.printable import short
from solver.requests.origin import Origin
from solver.requests.request import Bound, Request, curve_of, glass_bound, targets_of
from solver.search.exact import measure, mixed, off_aim, within
from solver.search.problem import Aim, Candidate, Limit, Problem

USUAL_TECHNIQUE = "shake"
"""How a drink is taken to be made where nothing says; the answer says that it was assumed."""


@dataclass(frozen=True)
class AimMet:
    """A drink's value of a measure that is aimed for; `value` is None if unknown."""

    aim: Aim
    value: float | None

    @property
    def distance(self) -> float | None:
        """Noticeable differences above the band of the aim, negative below, 0 within; None if
        unknown."""
        return None if self.value is None else self.aim.distance(self.value)


@dataclass(frozen=True)
class LimitMet:
    """Whether a drink keeps a limit; None if its value is unknown."""

    limit: Limit
    origin: Origin
    value: float | None
    kept: bool | None


@dataclass(frozen=True)
class Assessment:
    """A drink before ice and in the glass, and against its profile if it has one.

    `values` maps the name of each measure to its value; None if unknown. `assumed` is true if
    nothing states the technique. `off_aim` is None without a profile, or if a measure that is aimed
    for is unknown. `moved` are changes since the approval of the spec, `floated` is what lies on
    the drink and what is under it.
    """

    spec: Spec
    profile: Profile | None
    technique: str
    assumed: bool
    glass: str | None
    lines: tuple[Pour, ...]
    drink: Drink
    values: Mapping[str, float | None]
    off_aim: float | None
    aims: tuple[AimMet, ...]
    limits: tuple[LimitMet, ...]
    departures: tuple[Departure, ...]
    moved: tuple[Moved, ...]
    uncertain: Uncertainty
    guest: ForGuest
    floated: Floated | None = None


def find_drink(texts: Sequence[str], topped: Sequence[str], bar: Bar) -> Spec:
    """Find the spec that is meant: by its name in the bar's book, by its file, or by its pours.

    Raises:
        BadInput, BadInputs: it is none of these, or its file is wrong.
    """
    if not texts:
        raise BadInput("no drink is named", remedy="Name a spec, or pours like '2 oz rye-whiskey'.")
    one = texts[0] if len(texts) == 1 and not topped else None
    if one is not None and one.lower().endswith(".toml"):
        return read_spec(Path(one))
    if one is not None and is_spec_file(one, bar.specs):
        return find_spec(one, bar.specs)
    for text in texts if one is None else ():
        if is_spec_file(text, bar.specs):
            what = f"'{short(text)}' is a spec, and more is said beside it"
            raise BadInput(what, remedy="Name one spec alone, or pours like '2 oz rye-whiskey'.")
    if one is None or begins_with_number(one) or one in bar.library:
        return spec_of_lines(texts, topped, bar.bottles, bar.measures)
    try:
        return find_spec(one, bar.specs)
    except BadInput:
        if not ends_like_a_pour(one, bar.library):
            raise
    return spec_of_lines(texts, topped, bar.bottles, bar.measures)


def assess(
    spec: Spec,
    bar: Bar,
    *,
    profile: str | None = None,
    technique: str | None = None,
    glass: str | None = None,
    pours: Sequence[Pour] | None = None,
) -> Assessment:
    """Assess a spec against its own profile, or against the one asked for.

    Technique and glass are those asked for, else those of the spec, else those of its own profile;
    a profile that is asked for only measures. The bar's own figures and melt apply. `pours` are the
    pours of the spec as numbers, if known; otherwise its text is read.

    Raises:
        BadInput, BadInputs: a pour, the profile, the technique or the glass is not known.
    """
    if technique is not None and technique not in TECHNIQUES:
        raise _unknown_technique(technique)
    target, own = _profiles(spec, profile, bar)
    made = technique or spec.technique or (own.technique if own else None)
    fits = glass or spec.glass or (own.glass if own else None)
    poured = spec.poured(bar.bottles, bar.measures) if pours is None else pours
    lines = _lines(poured, target, own, TECHNIQUES[made or USUAL_TECHNIQUE], bar)
    aims, bounds = _targets(spec, target, fits, bar)
    problem = _problem(lines, aims, bounds, made or USUAL_TECHNIQUE, bar)
    amounts = np.array([line.amount for line in lines])
    drink = mixed(problem, amounts)
    values = measure(problem, amounts, MEASURES.values())
    known = {n: None if np.isnan(value) else float(value) for n, value in values.items()}
    distance = float(off_aim(problem, values)) if target else None
    return Assessment(
        spec=spec,
        profile=target,
        technique=made or USUAL_TECHNIQUE,
        assumed=made is None,
        glass=fits,
        lines=lines,
        drink=drink,
        values=known,
        off_aim=None if distance is None or np.isnan(distance) else distance,
        aims=tuple(AimMet(aim, known[aim.measure.name]) for aim in aims),
        limits=tuple(_met(bound, known[bound.measure.name]) for bound in bounds),
        departures=_departures(lines, made or USUAL_TECHNIQUE, target, bar) if target else (),
        moved=tuple(moved(spec.approved, known, bar.currency)) if spec.approved else (),
        uncertain=uncertainty(problem, amounts, drink, made or USUAL_TECHNIQUE, bar),
        guest=for_guest(
            lines,
            drink.finished,
            bar,
            made or USUAL_TECHNIQUE,
            garnish=spec.garnish,
            notes=spec.notes,
            steps=spec.written_steps,
        ),
        floated=floated(problem, amounts, bar.bottles.find),
    )


def _unknown_technique(technique: str) -> BadInput:
    what = f"'{short(technique)}' is not a technique known here"
    remedy = f"Known: {', '.join(TECHNIQUES)}."
    return BadInput(what, near=near_words(technique, TECHNIQUES), remedy=remedy)


def _profiles(spec: Spec, asked: str | None, bar: Bar) -> tuple[Profile | None, Profile | None]:
    """The profile to measure against, and the profile that the drink is made by."""
    target = bar.profile(asked) if asked is not None else None
    if spec.profile is None:
        return target, target
    try:
        own = bar.profile(spec.profile)
    except BadInput as error:
        raise error if error.where else error.at(spec.where(["profile"])) from None
    return target or own, own


def _targets(
    spec: Spec, profile: Profile | None, glass: str | None, bar: Bar
) -> tuple[tuple[Aim, ...], tuple[Bound, ...]]:
    try:
        if profile is not None:
            return targets_of(profile, bar, Request(glass=glass))
        return (), (glass_bound(glass, bar),) if glass else ()
    except BadInput as error:
        own = error.where is None and glass == spec.glass
        raise error.at(spec.where(["glass"])) if own else error from None


def _lines(
    pours: Sequence[Pour],
    target: Profile | None,
    own: Profile | None,
    technique: Technique,
    bar: Bar,
) -> tuple[Pour, ...]:
    """The pours with part, cost and stage; if everything meets the ice, no pour is on top."""
    found: list[Pour] = []
    nothing: tuple[Part | None, ...] = (None,) * len(pours)
    made_as = parts_filled(pours, own, bar) if own else nothing
    fills = made_as if target is own else parts_filled(pours, target, bar) if target else nothing
    beside = in_eggs_of_other(by_key(pours), bar.stocked)
    for poured, made, part in zip(pours, made_as, fills, strict=True):
        key = poured.ingredient.key
        stocked = bar.stocked(key) or bar.expected.get(key)
        price = stocked.price_per_unit if stocked else None
        price = 0.0 if key == beside and price is not None else price
        stage = poured.stage or (made.stage if made else "first")
        stage = "first" if technique.all_on_ice else stage
        filled_part = part.name if part else poured.part
        cost = None if price is None else price * poured.amount
        found.append(replace(poured, part=filled_part, stage=stage, cost=cost))
    return tuple(found)


def _problem(
    lines: Sequence[Pour],
    aims: tuple[Aim, ...],
    bounds: tuple[Bound, ...],
    technique: str,
    bar: Bar,
) -> Problem:
    """The drink as a problem with this single solution, so that the exact evaluator measures it."""
    candidates = tuple(
        Candidate(
            ingredient=line.ingredient.key,
            part=0,
            amounts=(line.amount,),
            composition=tuple(float(x) for x in line.ingredient.composition()),
            cost=None if line.cost is None else line.cost / line.amount,
            top=line.top,
        )
        for line in lines
    )
    limits = tuple(bound.limit for bound in bounds)
    return Problem(candidates, (), curve_of(technique, bar), limits, (), aims)


def _met(bound: Bound, value: float | None) -> LimitMet:
    limit = bound.limit
    kept = None if value is None else bool(within(limit, np.asarray(value)))
    return LimitMet(limit, bound.origin, value, kept)


def _departures(
    lines: Sequence[Pour], technique: str, profile: Profile, bar: Bar
) -> tuple[Departure, ...]:
    return departures(lines, parts_filled(lines, profile, bar), technique, profile, bar)
