"""The questions of the command line, for programs: numbers in, typed results out.

Amounts are numbers in the unit that the name of a measure says: % vol, g/100 mL, mL, g, the bar's
currency. One number is an aim; a pair is a limit, None for an open end: `abv=17.0`,
`cost=(None, 2.5)`.

All of them raise `BadInput` or `BadInputs` for what is not known or can't be read, with what to do
about it, and end when `seconds` are over; results say then that they are not proven.
"""

from __future__ import annotations

import datetime
import os
from collections.abc import Mapping, Sequence
from pathlib import Path

from solver.api.arguments import (
    Amount,
    Bound,
    Count,
    CountOrNone,
    NotLess,
    OpenBar,
    Percent,
    checked,
    member,
)
from solver.api.drink_results import Assessment, Design, Tradeoff
from solver.api.recipe_results import Prep
from solver.api.spec_results import Rebalance, Scaled, Swap
from solver.api.variation_results import Variation
from solver.clock import Clock
from solver.drinks.assess import assess as assessed
from solver.drinks.assess import find_drink
from solver.drinks.variation import vary as varied
from solver.errors import BadInput
from solver.files.near_words import near_words
from solver.harmony.dial import Dial
from solver.measures import GOALS, MEASURES
from solver.pantry.bar import Bar
from solver.pantry.load_bar import load_bar
from solver.printable import short
from solver.quantities import Span
from solver.requests.origin import From, Origin
from solver.requests.read_request import WrittenRequest, read_request
from solver.requests.request import MeasureWish, Request
from solver.requests.spread_from_words import FIGURES, SaidSpread, range_around_own
from solver.search.milp.cpsat import CpSat
from solver.search.problem import Goal
from solver.show.documents.assessed import assessment_fields
from solver.show.documents.design import design_fields
from solver.show.documents.prep import prep_fields
from solver.show.documents.rebalanced_book import book_fields
from solver.show.documents.scaled import scaled_fields
from solver.show.documents.swapped import swap_fields
from solver.show.documents.tradeoff import tradeoff_fields
from solver.show.documents.variation import variation_fields
from solver.tasks.design import design as designed
from solver.tasks.design_result import Explain
from solver.tasks.prep import find_recipe, prepare
from solver.tasks.prep.impact_on_specs import impacts_on_specs
from solver.tasks.prep.uncooked import with_uncooked, with_written_ahead
from solver.tasks.price.house_recipe_costs import with_costs
from solver.tasks.respec.bar_changes import read_changes
from solver.tasks.respec.book import rebalance_book
from solver.tasks.respec.outdated_recipes import unstocked
from solver.tasks.respec.scale import scale as scaled
from solver.tasks.respec.swap import swap as swapped
from solver.tasks.tradeoff import tradeoff as traded


@checked
def open_bar(
    folder: str | os.PathLike[str] | None = None, *, today: datetime.date | None = None
) -> Bar:
    """The bar in a folder; the built-in library, without prices, for None.

    Bottles are dated against `today`: by default the day in bar.toml, else the calendar's.
    """
    return with_written_ahead(with_costs(load_bar(None if folder is None else Path(folder), today)))


@checked
def design(
    bar: OpenBar,
    profile: str,
    *,
    include: Sequence[str] = (),
    without: Sequence[str] = (),
    feature: Sequence[str] = (),
    character: Sequence[str] = (),
    words: Sequence[str] = (),
    standard_drinks: Bound | None = None,
    beyond: Sequence[str] = (),
    glass: str | None = None,
    goal: str = "in-keeping",
    in_keeping: str = "familiar",
    as_in_keeping_as: Percent | None = None,
    serves: Count = 1,
    alternatives: CountOrNone = 0,
    verify: bool = False,
    why: bool = False,
    seconds: Amount = 60.0,
    **measures: Bound,
) -> Design:
    """The best drink of a profile, with its proof; or why there is none, and what would help.

    `include` are ingredients that must be in it, `without` what a guest avoids, in their words;
    `character` names tastes, alone or with how loud in usual pours ("smoke 0.5..1"), `words` those
    of the bar; `standard_drinks` are of where the bar is; further keywords are measures by their
    names, such as `abv`. With `as_in_keeping_as` 90 it is as much in keeping as nine of ten
    published drinks are. With `why` it is known of every limit whether it holds the drink back.
    """
    bar = with_uncooked(bar, bar.not_cooked((*include, *feature)))
    request = _request(
        bar, measures, standard_drinks,
        WrittenRequest(
            wanted=tuple(include), unwanted=tuple(without), feature=tuple(feature),
            character=tuple(character), words=tuple(words), beyond=tuple(beyond), glass=glass,
            goal=member(Goal, goal, "goal", among=GOALS),
            dial=member(Dial, in_keeping, "dial"), serves=serves, alternatives=alternatives,
            seconds=seconds,
            as_in_keeping_as=None if as_in_keeping_as is None else f"{as_in_keeping_as}%",
        ),
    )  # fmt: skip
    target = bar.profile(profile)
    explain = Explain.EVERYTHING if why else Explain.LIMITS
    found = designed(target, bar, request, CpSat(), verify=verify, explain=explain)
    return Design.model_validate(design_fields(found, bar))


@checked
def assess(
    bar: OpenBar,
    *drink: str,
    top: Sequence[str] = (),
    profile: str | None = None,
    technique: str | None = None,
    glass: str | None = None,
) -> Assessment:
    """What an existing drink is in the glass: a spec of the bar, or pours like "2 oz gin".

    `top` are pours that are added after the ice.
    """
    spec = find_drink(drink, top, bar)
    found = assessed(spec, bar, profile=profile, technique=technique, glass=glass)
    return Assessment.model_validate(assessment_fields(found, bar))


@checked
def vary(
    bar: OpenBar,
    *drink: str,
    top: Sequence[str] = (),
    profile: str | None = None,
    technique: str | None = None,
    jigger_ml: NotLess | None = None,
    melt: tuple[Amount, Amount] | None = None,
    figures: Mapping[tuple[str, str], tuple[float, float]] | None = None,
) -> Variation:
    """How a drink differs from one to the next, and what would steady it.

    `jigger_ml` is how far a jigger is off either way, `melt` the least and most as times the usual,
    `figures` ranges like {("lime-juice", "acid"): (4.8, 6.3)}, in % vol or g/100 mL. What is not
    said is as practice has it.
    """
    found = assessed(find_drink(drink, top, bar), bar, profile=profile, technique=technique)
    ranges: dict[tuple[str, str], tuple[float, float]] = {}
    for (name, figure), ends in (figures or {}).items():
        if figure not in FIGURES:
            what = f"'{short(figure)}' is not a figure of an ingredient"
            raise BadInput(what, remedy=f"Known: {', '.join(FIGURES)}.")
        item = bar.bottles.find(name)
        ranges[item.key, FIGURES[figure]] = range_around_own(item, FIGURES[figure], *ends)
    return Variation.model_validate(
        variation_fields(varied(found, bar, SaidSpread(jigger_ml, melt, ranges)), bar)
    )


@checked
def swap(
    bar: OpenBar,
    spec: str,
    out: str,
    instead: str | None = None,
    *,
    without: Sequence[str] = (),
    seconds: Amount = 60.0,
) -> Swap:
    """A spec with another ingredient, poured so that it stays what it was in the glass.

    With the best of what the shelf has, where none is named `instead`.
    """
    drink = find_drink((spec,), (), bar)
    clock = Clock.of(seconds)
    found = swapped(drink, bar, out, instead, CpSat(), clock=clock, unwanted=without)
    return Swap.model_validate(swap_fields(found, bar))


@checked
def scale(
    bar: OpenBar,
    spec: str,
    *,
    glass: str | None = None,
    volume: str | None = None,
    seconds: Amount = 60.0,
) -> Scaled:
    """A spec for another glass, like "nick-and-nora" or "coupe=150 ml", or for a volume."""
    drink = find_drink((spec,), (), bar)
    clock = Clock.of(seconds)
    found = scaled(drink, bar, CpSat(), glass=glass, volume=volume, clock=clock)
    return Scaled.model_validate(scaled_fields(found, bar))


@checked
def rebalance(
    bar: OpenBar,
    *,
    out_of: Sequence[str] = (),
    figures: Mapping[str, str] | None = None,
    seconds: Amount = 60.0,
) -> Rebalance:
    """The whole spec book after a change of the bar; nothing is written.

    `figures` are new ones of bottles, by names like "rye-whiskey.abv".
    """
    told = [f"{name}={value}" for name, value in (figures or {}).items()]
    changes = read_changes(told, tuple(out_of), (), bar)
    book = rebalance_book(bar, changes, CpSat(), clock=Clock.of(seconds))
    return Rebalance.model_validate(book_fields(book, bar, unstocked(bar, bar.today)))


@checked
def tradeoff(
    bar: OpenBar,
    profile: str,
    between: tuple[str, str] = ("cost", "off-aim"),
    *,
    points: Count = 60,
    include: Sequence[str] = (),
    without: Sequence[str] = (),
    character: Sequence[str] = (),
    words: Sequence[str] = (),
    seconds: Amount = 60.0,
    **measures: Bound,
) -> Tradeoff:
    """The Pareto front of two measures over all drinks of a profile, less of both being better."""
    bar = with_uncooked(bar, bar.not_cooked(include))
    wish = WrittenRequest(
        wanted=tuple(include), unwanted=tuple(without), character=tuple(character),
        words=tuple(words), seconds=seconds,
    )  # fmt: skip
    request = _request(bar, measures, None, wish)
    target = bar.profile(profile)
    found = traded(target, bar, request, between, CpSat(), points)
    return Tradeoff.model_validate(tradeoff_fields(found, bar))


@checked
def prep(bar: OpenBar, recipe: str, *, made: datetime.date | None = None) -> Prep:
    """What a house recipe makes: yield, strength, cost, life, allergens."""
    found = prepare(find_recipe(recipe, bar), bar, made or bar.today)
    return Prep.model_validate(prep_fields(found, bar, impacts_on_specs(found, bar)))


def _request(
    bar: Bar, measures: Mapping[str, Bound], standard_drinks: Bound | None, wish: WrittenRequest
) -> Request:
    """The request of some numbers and words.

    Raises:
        BadInput: a word or a measure is not known.
    """
    asked = [_wish(name, bound) for name, bound in measures.items()]
    if standard_drinks is not None:
        asked.append(_in_drinks(standard_drinks, bar))
    return read_request(wish, bar).and_also(Request(measures=tuple(asked)))


def _wish(name: str, bound: Bound) -> MeasureWish:
    if name not in MEASURES:
        what = f"'{short(name)}' is not a measure"
        remedy = f"Known: {', '.join(MEASURES)}."
        raise BadInput(what, near=near_words(name, MEASURES), remedy=remedy)
    return MeasureWish(MEASURES[name], _span(bound))


def _in_drinks(bound: Bound, bar: Bar) -> MeasureWish:
    """One number is the most; each is so many grams of alcohol."""
    each = bar.measures.standard_drink_g
    span = _span((None, bound) if isinstance(bound, int | float) else bound)
    low, high = (None if end is None else end * each for end in (span.low, span.high))
    ends = ("" if end is None else f"{end:g}" for end in (span.low, span.high))
    said = f"{'..'.join(ends)} drinks"
    return MeasureWish(MEASURES["ethanol"], Span(low=low, high=high), Origin(From.DRINKS, said))


def _span(bound: Bound) -> Span:
    if isinstance(bound, tuple):
        low, high = bound
        return Span(low=low, high=high)
    return Span(aim=float(bound))
