"""What is asked of a drink, as numbers, and the targets that follow from it and its profile."""

from __future__ import annotations

from collections.abc import Collection, Sequence
from dataclasses import dataclass, replace

from solver.errors import BadInput
from solver.harmony.dial import Dial
from solver.measures import MEASURES, Measure
from solver.mixture.melt import TECHNIQUES, Curve, calibrated
from solver.pantry.avoidance import Avoidance
from solver.pantry.bar import Bar
from solver.pantry.defaults import load_defaults
from solver.pantry.missing_prices import unpriced
from solver.pantry.profile import Profile
from solver.pantry.targets import ProfileTargets
from solver.quantities import PourSpan, Span
from solver.requests.origin import ASKED, From, Origin, origin_of
from solver.requests.word_wishes import WordWish
from solver.search.problem import Aim, Goal, Limit, Problem


@dataclass(frozen=True)
class ComparedStep:
    """A wish that compares, such as two steps drier; `tasks.comparisons` finds what it comes to.

    `target` is a bound on `measure`, the most where `sign` is negative, and the aim too; `served`
    is its value in the drink that it is compared with.
    """

    word: str
    count: float = 1.0
    measure: str = ""
    sign: float = 0.0
    target: float = 0.0
    served: float | None = None

    @property
    def says(self) -> str:
        """The wish in words."""
        return f"{self.count:g} step{'' if self.count == 1 else 's'} {self.word}"

    @property
    def option(self) -> str:
        """The wish as it is typed."""
        return f"--{self.word}" if self.count == 1 else f"--{self.word} {self.count:g}"


@dataclass(frozen=True)
class MeasureWish:
    """A value or a range that is asked of a measure, in its unit: an aim, or a limit."""

    measure: Measure
    span: Span
    origin: Origin = ASKED


@dataclass(frozen=True)
class IngredientWish:
    """An ingredient that is asked for, by its key, and how much of it where that is said."""

    key: str
    span: PourSpan | None = None


@dataclass(frozen=True)
class Request:
    """What is asked on top of a profile, as numbers and keys; `requests.read` makes it of words.

    `wanted` are ingredients, `unwanted` what a guest's words leave out, by keys, kinds and
    allergens, and `no_character` what tags of character do. Of each `character` something must be
    there, however much. `beyond` names measures on which the profile's own limits need not be kept;
    `steps` compare with what would be served without them, and must be settled first. `dial` is how
    far from books a drink may go; `feature` are keys of ingredients that it is to show; `words` are
    those of the bar. `as_in_keeping_as` is a share of published drinks: a drink has to be as much
    in keeping as so many of them are.
    """

    measures: tuple[MeasureWish, ...] = ()
    wanted: tuple[IngredientWish, ...] = ()
    unwanted: tuple[Avoidance, ...] = ()
    goal: Goal = Goal.IN_KEEPING
    glass: str | None = None
    serves: int = 1
    seconds: float = 60.0
    alternatives: int = 0
    character: tuple[Measure, ...] = ()
    no_character: tuple[Avoidance, ...] = ()
    beyond: tuple[str, ...] = ()
    steps: tuple[ComparedStep, ...] = ()
    dial: Dial = Dial.FAMILIAR
    feature: tuple[str, ...] = ()
    words: tuple[WordWish, ...] = ()
    as_in_keeping_as: float | None = None

    @property
    def ranged(self) -> tuple[MeasureWish, ...]:
        """All values and ranges that are asked of measures, but for what follows from a profile."""
        of_words = (
            MeasureWish(each.measure, each.span, Origin(From.WORD, word.name))
            for word in self.words
            for each in word.ranges
        )
        return (*self.measures, *of_words)

    @property
    def avoided(self) -> tuple[Avoidance, ...]:
        """All that may not be in the drink."""
        return (*self.unwanted, *self.no_character)

    def and_also(self, other: Request) -> Request:
        """This request with the wishes of another, whose glass counts where it names one."""
        return replace(
            self,
            measures=(*self.measures, *other.measures),
            wanted=(*self.wanted, *other.wanted),
            unwanted=(*self.unwanted, *other.unwanted),
            character=(*self.character, *other.character),
            no_character=(*self.no_character, *other.no_character),
            beyond=(*self.beyond, *other.beyond),
            steps=(*self.steps, *other.steps),
            words=tuple(dict.fromkeys((*self.words, *other.words))),
            glass=other.glass or self.glass,
        )


@dataclass(frozen=True)
class Bound:
    """A limit on a measure of the finished drink, and who sets it; either side may be open."""

    origin: Origin
    measure: Measure
    low: float | None
    high: float | None

    @property
    def limit(self) -> Limit:
        """It as a limit of the search, named in a word."""
        return Limit(self.origin.short, self.measure, self.low, self.high)


def curve_of(name: str, bar: Bar) -> Curve:
    """The melt of a technique: the bar's own weighing or factor, else the published curve."""
    technique = TECHNIQUES[name]
    weighed = bar.weighed.get(name)
    if weighed is None:
        return technique.curve.scaled(bar.melt_factors.get(name, 1.0))
    return calibrated(technique, weighed.before_g, weighed.after_g, weighed.abv_pct)


def targets_of(
    profile: Profile, bar: Bar, request: Request
) -> tuple[tuple[Aim, ...], tuple[Bound, ...]]:
    """What the finished drink must come close to and keep: by profile, request and glass.

    Raises:
        BadInput, BadInputs: the profile can't be read, has no limit to go beyond, or the glass is
            not known.
    """
    targets: ProfileTargets = profile.targets(bar.measures, bar.currency)
    bands = {t.measure: (t.low, t.high) for t in targets.aims}
    aims, measured = dict(bands), dict(MEASURES)
    own = {t.measure: t.value for t in targets.tolerances}
    _limited(request.beyond, profile, targets)
    bounds = [
        Bound(origin_of(profile), MEASURES[t.measure], t.low, t.high)
        for t in targets.limits
        if t.measure not in request.beyond
    ]
    for wish in request.ranged:
        measured[wish.measure.name] = wish.measure
        if wish.span.aim is not None:
            aims[wish.measure.name] = (wish.span.aim, wish.span.aim)
        else:
            bounds.append(Bound(wish.origin, wish.measure, wish.span.low, wish.span.high))
    for word in request.words:
        for half in word.halves:
            if half.measure.name in bands:
                ranged = half.of(bands[half.measure.name])
                origin = Origin(From.WORD, word.name)
                bounds.append(Bound(origin, half.measure, ranged.low, ranged.high))
    for step in request.steps:
        low, high = (None, step.target) if step.sign < 0 else (step.target, None)
        origin = Origin(From.COMPARISON, step.says)
        bounds.append(Bound(origin, MEASURES[step.measure], low, high))
        aims[step.measure] = (step.target, step.target)
    glass = request.glass or profile.glass
    if glass is not None:
        bounds.append(glass_bound(glass, bar))
    return (
        tuple(_aim(measured[name], *band, own.get(name)) for name, band in aims.items()),
        tuple(bounds),
    )


def _aim(measure: Measure, low: float, high: float, own: float | None) -> Aim:
    """An aim: its band, or about one value, half a noticeable difference to either side."""
    tolerance = own or measure.tolerance((low + high) / 2)
    if low == high:
        low, high = max(0.0, low - tolerance / 2), high + tolerance / 2
    return Aim(measure, low, tolerance, high)


def _limited(beyond: Sequence[str], profile: Profile, targets: ProfileTargets) -> None:
    """Check that the profile has the limits that need not be kept: else the wish has no effect."""
    own = {target.measure for target in targets.limits}
    for name in beyond:
        if name not in own:
            what = f"the profile {profile.name} has no limit on {MEASURES[name].label}"
            raise BadInput(what, remedy=f"Leave out --beyond {name}.")


def glass_bound(name: str, bar: Bar) -> Bound:
    """The most that the glass called `name` holds: to its wash line.

    Raises:
        BadInput: there is no such glass.
    """
    line = bar.glass(name).wash_line_ml
    return Bound(Origin(From.GLASS, name), MEASURES["volume"], None, line)


MOST_NAMED = 30
"""Ingredients without a price that are named: as many as a profile takes of most shelves."""


def check_prices(
    problem: Problem,
    bar: Bar,
    optional: Collection[str] = (),
    why: str = "the cost is asked about",
) -> None:
    """Check that what a cost is asked of has prices, but for `optional` ingredients.

    Raises:
        BadInput: a price is missing; `why` says what it is needed for.
    """
    if not problem.about_cost:
        return
    poured = sorted({c.ingredient for c in problem.candidates if c.cost is None} - set(optional))
    if poured:
        missing = unpriced(bar, *poured) or poured
        what = f"there is no price for {_some(missing)}"
        out = "leave it out" if set(missing) == {*poured} else f"leave out {_some(poured)}"
        remedy = (
            f"Fill it in, like `equipour shelf set {missing[0]} --price 28`, or {out} with "
            "--without, or all that has none with --only-priced."
        )
        raise BadInput(what, why=why, remedy=remedy)


def _some(keys: Sequence[str]) -> str:
    """The first of some keys, in a row."""
    beyond = len(keys) - MOST_NAMED
    return ", ".join(keys[:MOST_NAMED]) + (f" and {beyond} others" if beyond > 0 else "")


def finer_bar(bar: Bar) -> Bar | None:
    """The bar with the next finer jigger of the same kind; None if there is none."""
    own = bar.pour_set
    finer = [
        (pours.jigger.step, name)
        for name, pours in load_defaults().pour_sets.items()
        if pours.unit == own.unit and pours.jigger.step < own.jigger.step
    ]
    return bar.with_pour_set(max(finer)[1]) if finer else None
