"""From a profile, a bar and a user's wishes to a problem of numbers."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

from solver.errors import BadInput
from solver.measures import MEASURES, Form
from solver.mixture.melt import TECHNIQUES, Curve, calibrated
from solver.pantry.bar import Bar
from solver.pantry.checked import short
from solver.pantry.ingredient import Ingredient
from solver.pantry.profile import Part, Profile, Targets
from solver.pantry.shelf import Stocked
from solver.pantry.vocabulary import CHARACTERS, KIND_FAMILIES, KINDS, near_words
from solver.quantities import PourSpan, parse_pour_span, parse_span
from solver.search.problem import Aim, Candidate, Choice, Goal, Limit, PartRule, Problem

DEFINING = ("base", "modifier")
"""Parts whose ingredients make a drink another drink."""


@dataclass(frozen=True)
class Request:
    """What the user asks on top of a profile, as written.

    `measures` holds every value and range by the name of its measure; `wanted` are ingredients,
    with `=` a pour or a range of it; `unwanted` are ingredients, kinds or what a guest avoids.
    """

    measures: Mapping[str, tuple[str, ...]] = field(default_factory=dict)
    wanted: tuple[str, ...] = ()
    unwanted: tuple[str, ...] = ()
    goal: Goal = Goal.CLOSEST
    glass: str | None = None
    serves: int = 1
    seconds: float = 60.0
    alternatives: int = 0
    character: tuple[str, ...] = ()
    no_character: tuple[str, ...] = ()


def problem_of(profile: Profile, bar: Bar, request: Request) -> Problem:
    """The problem that a request poses.

    Raises:
        BadInput, BadInputs: something asked for can't be read, is not known, or has no price where
            the cost matters.
    """
    wanted = [_wanted(text, bar) for text in request.wanted]
    for tag in (*request.character, *request.no_character):
        _known_character(tag)
    offered = [
        stocked
        for stocked in bar.stock
        if not _avoided(stocked.ingredient, request.unwanted, bar)
        and not set(stocked.ingredient.character) & set(request.no_character)
    ]
    candidates: list[Candidate] = []
    parts: list[PartRule] = []
    for index, part in enumerate(profile.parts):
        pours = profile.part_pours(part, bar.measures)
        total = pours.total
        low, high = (total.low, total.high) if total else (None, None)
        parts.append(PartRule(part.name, *part.count, low, high))
        for stocked in offered:
            span = next((s for i, s in wanted if s and i.key == stocked.ingredient.key), pours.each)
            found = _candidate(stocked, part, index, span, bar, request.serves)
            if found is not None:
                candidates.append(found)
    aims, limits = targets_of(profile, bar, request)
    problem = Problem(
        tuple(candidates),
        tuple(parts),
        curve_of(profile.technique, bar),
        limits,
        (*_choices(wanted, candidates), *_characters(request, bar, candidates)),
        aims,
        request.goal,
    )
    _need_prices(problem)
    return problem


def _wanted(text: str, bar: Bar) -> tuple[Ingredient, PourSpan | None]:
    name, sign, pour = text.partition("=")
    ingredient = bar.library.find(name)
    if bar.stocked(ingredient.key) is None:
        what = f"{ingredient.name} is not on the shelf"
        raise BadInput(what, remedy="Add it to shelf.csv, or leave out --with.")
    return ingredient, parse_pour_span(pour, bar.measures) if sign else None


def _avoided(ingredient: Ingredient, unwanted: tuple[str, ...], bar: Bar) -> bool:
    """Whether a word names the ingredient, its kind, or something that it holds or may hold.

    A word that means several of these excludes them all: "egg" is an ingredient and an allergen.

    Raises:
        BadInput: nobody knows the word.
    """
    for word in unwanted:
        if ingredient.answers_to(word) or ingredient.is_kind(word.lower()):
            return True
        try:
            if ingredient.excluded_by(word) is not None:
                return True
        except BadInput:
            if word not in bar.library and word.lower() not in (*KINDS, *KIND_FAMILIES):
                raise
    return False


def _candidate(
    stocked: Stocked, part: Part, index: int, each: PourSpan, bar: Bar, serves: int
) -> Candidate | None:
    ingredient = stocked.ingredient
    if not part.accepts(ingredient):
        return None
    amounts = bar.pour_set.amounts_of(ingredient, each, bar.measures, part.tool)
    if stocked.on_hand is not None:
        amounts = tuple(a for a in amounts if a * serves <= stocked.on_hand)
    if not amounts:
        return None
    composition = tuple(float(x) for x in ingredient.composition())
    top = part.stage == "top"
    return Candidate(ingredient.key, index, amounts, composition, stocked.price_per_unit, top)


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
    aims = {t.measure: t.value for t in targets.aims}
    own = {t.measure: t.value for t in targets.tolerances}
    limits = [Limit("profile", MEASURES[t.measure], t.low, t.high) for t in targets.limits]
    for name, texts in request.measures.items():
        for text in texts:
            span = parse_span(text, MEASURES[name].quantity, bar.measures, currency=bar.currency)
            if span.aim is not None:
                aims[name] = span.aim
            else:
                limits.append(Limit("request", MEASURES[name], span.low, span.high))
    glass = request.glass or profile.glass
    if glass is not None:
        limits.append(glass_limit(glass, bar))
    return (
        tuple(
            Aim(MEASURES[name], value, own.get(name, MEASURES[name].tolerance(value)))
            for name, value in aims.items()
        ),
        tuple(limits),
    )


def glass_limit(name: str, bar: Bar) -> Limit:
    """The most that the glass called `name` holds: to its wash line.

    Raises:
        BadInput: there is no such glass.
    """
    return Limit(f"glass: {name}", MEASURES["volume"], None, bar.glass(name).wash_line_ml)


def _choices(
    wanted: list[tuple[Ingredient, PourSpan | None]], candidates: list[Candidate]
) -> list[Choice]:
    return [
        Choice(
            f"with {ingredient.key}",
            frozenset(i for i, c in enumerate(candidates) if c.ingredient == ingredient.key),
            low=1,
        )
        for ingredient, _ in wanted
    ]


def _known_character(tag: str) -> None:
    if tag not in CHARACTERS:
        what = f"'{short(tag)}' is not a character known here"
        remedy = f"Known: {', '.join(CHARACTERS)}."
        raise BadInput(what, near=near_words(tag, CHARACTERS), remedy=remedy)


def _characters(request: Request, bar: Bar, candidates: list[Candidate]) -> list[Choice]:
    """For each character wished for, at least one pour that has it."""
    tags = {stocked.ingredient.key: stocked.ingredient.character for stocked in bar.stock}
    return [
        Choice(
            f"character {tag}",
            frozenset(i for i, c in enumerate(candidates) if tag in tags[c.ingredient]),
            low=1,
        )
        for tag in request.character
    ]


def _need_prices(problem: Problem) -> None:
    if not any(measure.form is Form.COST for measure in problem.named):
        return
    missing = sorted({c.ingredient for c in problem.candidates if c.cost is None})
    if missing:
        named = ", ".join(missing[:5]) + (" and others" if len(missing) > 5 else "")
        what = f"there is no price for {named}"
        remedy = "Fill in bottle and price in shelf.csv, or leave it out with --without."
        raise BadInput(what, why="the cost is asked about", remedy=remedy)
