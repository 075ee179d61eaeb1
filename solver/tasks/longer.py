"""A drink asked for longer: with a top, as the long drink that its profile names.

More of everything makes a larger drink, not a longer one. What is poured stays, in its amounts as
far as the long drink takes them, and what that has for a top comes upon it.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import replace

from solver.measures import MEASURES
from solver.pantry.avoidance import all_against
from solver.pantry.bar import Bar
from solver.pantry.pour import Pour
from solver.pantry.profile import Profile
from solver.quantities import Span, parse_pour_span
from solver.requests.origin import From, Origin
from solver.requests.request import IngredientWish, MeasureWish, Request
from solver.search.problem import Goal
from solver.tasks.comparisons import with_targets
from solver.tasks.design_result import Design, Lengthens
from solver.tasks.save import written_amount

WORD = "longer"
"""The wish that compares, as `solver.measures` has it."""
TOPS = ("lengthener", "sparkling")
"""Parts that make a drink long."""
Designed = Callable[[Profile, Request], Design]
"""The best drink of a profile for a request."""


def long_profile(profile: Profile | None, bar: Bar, request: Request) -> Profile | None:
    """The long drink of a profile, where a request is for a longer one.

    Raises:
        BadInput, BadInputs: its file is wrong, or there is none.
    """
    asked = any(step.word == WORD for step in request.steps)
    if profile is None or profile.longer is None or not asked:
        return None
    return bar.profile(profile.longer)


def longer_design(
    profile: Profile, bar: Bar, request: Request, designed: Designed
) -> Design | None:
    """The long drink of what a profile would serve: that of its profile, or itself with more of its
    top. None where it has neither.

    Raises:
        BadInput, BadInputs: as `design`.
    """
    long = long_profile(profile, bar, request)
    if long is None and _has_top(profile) and any(step.word == WORD for step in request.steps):
        long = profile
    if long is None:
        return None
    served = designed(profile, replace(request, steps=(), alternatives=0)).answer
    if served is None:
        return None
    values = {name: value for name, value in served.values.items() if value is not None}
    beneath = [pour for pour in served.pours if long is not profile or pour.part not in TOPS]
    return topped(profile.name, beneath, long, bar, with_targets(request, values), designed)


def _has_top(profile: Profile) -> bool:
    """Whether a drink of the profile is made longer with more of what it is topped with."""
    return any(part.name in TOPS and part.count[0] for part in profile.parts)


def topped(
    name: str, pours: Sequence[Pour], long: Profile, bar: Bar, request: Request,
    designed: Designed,
) -> Design | None:  # fmt: skip
    """The pours of a drink in its long one; `request` has the targets of its steps.

    Of all its amounts, then all that the long drink takes, then its base alone: the first with
    which it is on target; else the first with which it can be poured. None if it cannot.

    Raises:
        BadInput, BadInputs: as `design`.
    """
    request = replace(_bounded(request), goal=Goal.IN_KEEPING)
    named = {wish.key for wish in request.wanted}
    found: Design | None = None
    for wishes in _kept(pours, long, bar, request):
        more = tuple(wish for wish in wishes if wish.key not in named)
        one = designed(long, replace(request, wanted=(*request.wanted, *more)))
        if one.interrupted:
            break
        if one.answer is None:
            continue
        there = {pour.ingredient.key for pour in one.answer.pours}
        kept, left = (
            tuple(p.ingredient for p in pours if (p.ingredient.key in there) is stays)
            for stays in (True, False)
        )
        one = replace(one, lengthens=Lengthens(name, kept, left))
        if one.targets is None or not one.targets.off:
            return one
        found = found or one
    return found


def _kept(
    pours: Sequence[Pour], long: Profile, bar: Bar, request: Request
) -> list[tuple[IngredientWish, ...]]:
    """What of a drink is asked to be in the long one, most first; nothing that cannot be."""
    takes = [
        pour
        for pour in pours
        if any(part.accepts(pour.ingredient) for part in long.parts)
        and bar.stocked(pour.ingredient.key) is not None
        and not all_against(bar.told_of(pour.ingredient), request.avoided)
    ]
    spans = (
        parse_pour_span(written_amount(p.ingredient, p.amount, p.tool, bar), bar.measures)
        for p in takes
    )
    both = zip(takes, spans, strict=True)
    exact = tuple(IngredientWish(pour.ingredient.key, span) for pour, span in both)
    alike = tuple(IngredientWish(pour.ingredient.key) for pour in takes)
    base = tuple(IngredientWish(pour.ingredient.key) for pour in takes if pour.part == "base")
    return list(dict.fromkeys((exact, alike, base)))


def _bounded(request: Request) -> Request:
    """The request with bounds for its steps: a long drink has its own aims beyond them."""
    bounds = tuple(
        MeasureWish(
            MEASURES[step.measure],
            Span(high=step.target) if step.sign < 0 else Span(low=step.target),
            Origin(From.COMPARISON, step.says),
        )
        for step in request.steps
    )
    return replace(request, measures=(*request.measures, *bounds), steps=())
