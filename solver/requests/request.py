"""From a profile, a bar and a user's wishes to a problem of numbers."""

from __future__ import annotations

from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass, field

from solver.errors import BadInput
from solver.files.near import near_words
from solver.harmony.dial import Dial
from solver.measures import MEASURES, Measure
from solver.mixture.melt import TECHNIQUES, Curve, calibrated
from solver.pantry.avoidance import Avoidance
from solver.pantry.bar import Bar
from solver.pantry.defaults import load_defaults
from solver.pantry.ingredient import Ingredient
from solver.pantry.profile import Profile, Targets
from solver.pantry.vocabulary import CHARACTERS
from solver.printable import short
from solver.quantities import PourSpan, is_mass, parse_pour_span, parse_span
from solver.search.problem import Aim, Goal, Limit, Problem


@dataclass(frozen=True)
class Step:
    """A wish that compares, such as two steps drier; `tasks.steps` finds what it comes to.

    `target` is a bound on `measure`, the most where `sign` is negative, and the aim too.
    """

    word: str
    count: float = 1.0
    measure: str = ""
    sign: float = 0.0
    target: float = 0.0

    @property
    def says(self) -> str:
        """The wish in words."""
        return f"{self.count:g} step{'' if self.count == 1 else 's'} {self.word}"


@dataclass(frozen=True)
class Request:
    """What the user asks on top of a profile, as written.

    `measures` holds every value and range by the name of its measure; `wanted` are ingredients,
    with `=` a pour or a range of it; `unwanted` are ingredients, kinds or what a guest avoids.
    `standard_drinks` are ranges of the jurisdiction's; `beyond` names measures on which the
    profile's own limits need not be kept; `steps` compare with what would be served without them,
    and must be settled first. `dial` is how far from books a drink may go; `feature` are names of
    ingredients that it is to show.
    """

    measures: Mapping[str, tuple[str, ...]] = field(default_factory=dict)
    wanted: tuple[str, ...] = ()
    unwanted: tuple[str, ...] = ()
    goal: Goal = Goal.IN_KEEPING
    glass: str | None = None
    serves: int = 1
    seconds: float = 60.0
    alternatives: int = 0
    character: tuple[str, ...] = ()
    no_character: tuple[str, ...] = ()
    standard_drinks: tuple[str, ...] = ()
    beyond: tuple[str, ...] = ()
    steps: tuple[Step, ...] = ()
    dial: Dial = Dial.FAMILIAR
    feature: tuple[str, ...] = ()


def wanted(text: str, bar: Bar) -> tuple[Ingredient, PourSpan | None]:
    """The ingredient that a wish names, and how much of it where the wish says.

    Raises:
        BadInput: it is not known, nothing of it is in a bottle yet, or its pour can't be read.
    """
    name, sign, pour = text.partition("=")
    recipe = bar.recipe(name)
    if recipe is not None and name not in bar.library:
        what = f"nothing of {recipe.dish.name} is in a bottle yet"
        remedy = f"Cook it, and run `equipour prep {recipe.key} --stock`."
        raise BadInput(what, why="the house has only its recipe", remedy=remedy)
    ingredient = bar.library.find(name)
    return ingredient, parse_pour_span(pour, bar.measures) if sign else None


def avoided(request: Request, bar: Bar) -> tuple[Avoidance, ...]:
    """What the words of a request exclude, and its tags of character.

    Raises:
        BadInput: nobody knows a word.
    """
    return (
        *(bar.avoidable.word(word) for word in request.unwanted),
        *(bar.avoidable.character(tag) for tag in request.no_character),
    )


def curve_of(name: str, bar: Bar) -> Curve:
    """The melt of a technique: the bar's own weighing or factor, else the published curve."""
    technique = TECHNIQUES[name]
    weighed = bar.weighed.get(name)
    if weighed is None:
        return technique.curve.scaled(bar.melt_factors.get(name, 1.0))
    return calibrated(technique, weighed.before_g, weighed.after_g, weighed.abv_pct)


def targets_of(
    profile: Profile, bar: Bar, request: Request
) -> tuple[tuple[Aim, ...], tuple[Limit, ...]]:
    """What the finished drink must come close to and keep: by profile, request and glass.

    Raises:
        BadInput, BadInputs: something can't be read, or the glass is not known.
    """
    targets: Targets = profile.targets(bar.measures, bar.currency)
    aims = {t.measure: (t.low, t.high) for t in targets.aims}
    own = {t.measure: t.value for t in targets.tolerances}
    known_measures(request.beyond)
    _limited(request.beyond, profile, targets)
    limits = [
        Limit("profile", MEASURES[t.measure], t.low, t.high)
        for t in targets.limits
        if t.measure not in request.beyond
    ]
    for name, texts in request.measures.items():
        for text in texts:
            measure = meant(name, text)
            span = parse_span(text, measure.quantity, bar.measures, currency=bar.currency)
            if span.aim is not None:
                aims[measure.name] = (span.aim, span.aim)
            else:
                limits.append(Limit("request", measure, span.low, span.high))
    limits += [_standard_drinks(text, bar) for text in request.standard_drinks]
    for step in request.steps:
        low, high = (None, step.target) if step.sign < 0 else (step.target, None)
        limits.append(Limit(f"as asked: {step.says}", MEASURES[step.measure], low, high))
        aims[step.measure] = (step.target, step.target)
    glass = request.glass or profile.glass
    if glass is not None:
        limits.append(glass_limit(glass, bar))
    return (
        tuple(_aim(MEASURES[name], *band, own.get(name)) for name, band in aims.items()),
        tuple(limits),
    )


def meant(name: str, text: str) -> Measure:
    """The measure that a wish is about: sugar in grams is that of the whole drink."""
    return MEASURES["sugar_total" if name == "sugar" and is_mass(text) else name]


def _aim(measure: Measure, low: float, high: float, own: float | None) -> Aim:
    """An aim: its band, or about one value, half a noticeable difference to either side."""
    tolerance = own or measure.tolerance((low + high) / 2)
    if low == high:
        low, high = max(0.0, low - tolerance / 2), high + tolerance / 2
    return Aim(measure, low, tolerance, high)


def known_measures(names: Sequence[str]) -> None:
    """Check that every name is that of a measure.

    Raises:
        BadInput: one is not.
    """
    for name in names:
        if name not in MEASURES:
            what = f"'{short(name)}' is not a measure"
            remedy = f"Known: {', '.join(MEASURES)}."
            raise BadInput(what, near=near_words(name, MEASURES), remedy=remedy)


def _limited(beyond: Sequence[str], profile: Profile, targets: Targets) -> None:
    """Check that the profile has the limits that need not be kept: else the wish has no effect."""
    own = {target.measure for target in targets.limits}
    for name in beyond:
        if name not in own:
            what = f"the profile {profile.name} has no limit on {MEASURES[name].label}"
            raise BadInput(what, remedy=f"Leave out --beyond {name}.")


def _standard_drinks(text: str, bar: Bar) -> Limit:
    """A limit on the alcohol, from one on standard drinks; one value is the most.

    Raises:
        BadInput: it can't be read.
    """
    unit = "drink" if text.strip() in {"1", "<=1"} else "drinks"
    written = text if any(map(str.isalpha, text)) else f"{text.strip()} {unit}"
    span = parse_span(written, MEASURES["ethanol"].quantity, bar.measures)
    name = f"as asked: {written}"
    if span.aim is not None:
        return Limit(name, MEASURES["ethanol"], None, span.aim)
    return Limit(name, MEASURES["ethanol"], span.low, span.high)


def glass_limit(name: str, bar: Bar) -> Limit:
    """The most that the glass called `name` holds: to its wash line.

    Raises:
        BadInput: there is no such glass.
    """
    return Limit(f"glass: {name}", MEASURES["volume"], None, bar.glass(name).wash_line_ml)


def known_character(tag: str) -> None:
    """Check that a tag of character is known.

    Raises:
        BadInput: it is not.
    """
    if tag not in CHARACTERS:
        what = f"'{short(tag)}' is not a character known here"
        remedy = f"Known: {', '.join(CHARACTERS)}."
        raise BadInput(what, near=near_words(tag, CHARACTERS), remedy=remedy)


def check_prices(problem: Problem, optional: Collection[str] = ()) -> None:
    """Check that what a cost is asked of has prices, but for `optional` ingredients.

    Raises:
        BadInput: a price is missing.
    """
    if not problem.about_cost:
        return
    missing = sorted({c.ingredient for c in problem.candidates if c.cost is None} - set(optional))
    if missing:
        named = ", ".join(missing[:5]) + (" and others" if len(missing) > 5 else "")
        what = f"there is no price for {named}"
        remedy = "Fill in bottle and price in shelf.csv, or leave it out with --without."
        raise BadInput(what, why="the cost is asked about", remedy=remedy)


def finer_bar(bar: Bar) -> Bar | None:
    """The bar with the next finer jigger of the same kind, if there is one."""
    own = bar.pour_set
    finer = [
        (pours.jigger.step, name)
        for name, pours in load_defaults().pour_sets.items()
        if pours.unit == own.unit and pours.jigger.step < own.jigger.step
    ]
    return bar.with_pour_set(max(finer)[1]) if finer else None
