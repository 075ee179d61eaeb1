"""Ask a request of every profile, and return the best of the answers.

Drinks of different profiles are compared by the worth of their ingredients less the worth of the
best set that the bar could pour of the same profile if nothing was asked. Worths are logarithms of
shares of drinks, so the difference is the logarithm of how many times less usual the drink is.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

from solver.clock import Clock, TimeUpError, Work
from solver.drinks.answer import Answer
from solver.errors import BadInput, BadInputs
from solver.harmony.harmony import SCALE
from solver.pantry.bar import Bar
from solver.pantry.profile import Profile
from solver.pantry.profile_files import readable_profiles
from solver.requests.allowed_pours import Pourables
from solver.requests.asked_drink import AskedDrink
from solver.requests.bar_taste import taste_of
from solver.requests.in_keeping import InKeeping
from solver.requests.request import Request
from solver.search.milp.backend import Backend
from solver.search.presolve import trivially_infeasible
from solver.search.problem import Goal
from solver.search.sets.best_first import best_first
from solver.tasks.design import design
from solver.tasks.design_result import Design, Status
from solver.tasks.why_no_profile import WhyNoProfile, why_no_profile

MOST = 3
"""Drinks that are answered with."""
ROUNDS = 2


@dataclass(frozen=True)
class Proposal:
    """A drink of one profile; `from_usual` is its worth below the best set of that profile."""

    found: Design
    from_usual: float


@dataclass(frozen=True)
class Anything:
    """The result of asking every profile.

    `best` are drinks of different families of profiles, best first; `having` counts the profiles
    with a drink. `none` are those proven to have none, `open` those for which there was no time,
    `misread` those whose files cannot be read. `why_none` says why none has a drink, if that is
    proven.
    """

    best: tuple[Proposal, ...]
    asked: int
    having: int
    none: tuple[str, ...]
    open: tuple[str, ...]
    misread: tuple[BadInput | BadInputs, ...]
    why_none: WhyNoProfile | None
    interrupted: bool
    seconds: float


def check_any(
    bar: Bar, request: Request, backend: Backend, clock: Clock | None = None, *, why: bool = True
) -> Anything:
    """Ask every profile, the bar's own included, within the time of the request.

    Each may take an equal part of the time that is left; those that ran out of it are asked once
    more when all others are done. Without `why`, it is not explained why none has a drink.

    Raises:
        BadInput, BadInputs: something asked for can't be read or is not known.
    """
    clock = clock or Clock.of(request.seconds)
    started = clock.left
    profiles, misread = readable_profiles(bar.profiles)
    taste = taste_of(bar)
    best: dict[str, Proposal] = {}
    none: list[str] = []
    without: list[AskedDrink] = []
    waiting: list[tuple[Request, AskedDrink]] = []
    for profile in profiles:
        mine = _within_reach(request, profile)
        plain = AskedDrink.of(profile, bar, replace(mine, steps=()), Pourables(profile, bar, taste))
        # A hundred times sooner than by a search.
        if trivially_infeasible(plain.problem()):
            none.append(profile.name)
            without.append(plain)
        else:
            waiting.append((mine, plain))
    interrupted = distant = False
    for _ in range(ROUNDS):
        left, waiting = waiting, []
        for done, (mine, plain) in enumerate(left):
            name = plain.profile.name
            if interrupted or clock.left == 0:
                waiting.append((mine, plain))
                continue
            clock.tell(Work.ITEMS, len(profiles) - len(left) + done, len(profiles))
            share = clock.unwatched.within(clock.left / (len(left) - done))
            found = design(plain.profile, bar, mine, backend, clock=share, plain=plain)
            interrupted = found.interrupted
            if found.answer is not None and not found.far_off:
                best[name] = Proposal(found, _from_usual(found.answer, plain, clock))
            distant |= bool(found.far_off)
            if found.status is Status.IMPOSSIBLE or found.far_off:
                none.append(name)
                without.append(plain)
            elif found.status is not Status.OPTIMAL:
                waiting.append((mine, plain))

    def best_of(other: Bar) -> tuple[str, Answer] | None:
        first = next(iter(check_any(other, request, backend, clock, why=False).best), None)
        answer = first.found.answer if first else None
        return (first.found.profile.name, answer) if first and answer else None

    told = why and not (best or waiting or interrupted or distant)
    reasons = why_no_profile(without, bar, backend, clock, _from_usual, best_of) if told else None
    return Anything(
        best=_of_different_families(sorted(best.values(), key=_rank)),
        asked=len(profiles),
        having=len(best),
        none=tuple(sorted(none)),
        open=tuple(plain.profile.name for _, plain in waiting),
        misread=tuple(misread),
        why_none=reasons,
        interrupted=interrupted,
        seconds=started - clock.left,
    )


def _within_reach(request: Request, profile: Profile) -> Request:
    """The request without `beyond` for measures that the profile does not limit."""
    own = {target.measure for target in profile.limits}
    return replace(request, beyond=tuple(name for name in request.beyond if name in own))


def _from_usual(answer: Answer, plain: AskedDrink, clock: Clock) -> float:
    """The worth of a drink below that of the best set of its profile; infinite if unknown."""
    if answer.evidence is None:
        return math.inf
    anything = plain.again(Request(dial=plain.request.dial))
    problem = anything.problem()
    question = InKeeping(anything, problem).question(problem)
    try:
        first = next(best_first(question, clock), None)
    except TimeUpError:
        return math.inf
    return math.inf if first is None else first.worth / SCALE - answer.evidence.worth


def _rank(each: Proposal) -> tuple[float, float, float, str]:
    """The sort key: on target first, then by the goal that was asked for, or by worth."""
    found = each.found
    off = found.targets.off if found.targets else 0.0
    goal = 0.0 if found.problem.goal is Goal.IN_KEEPING else found.objective
    return (round(off, 6), round(goal, 6), round(each.from_usual, 6), found.profile.name)


def _of_different_families(ranked: Sequence[Proposal]) -> tuple[Proposal, ...]:
    """The best drink of each family of profiles that inherit from one another, and of each set of
    ingredients; at most as many as are shown."""
    return tuple(each for each, _ in zip(_first_of_each(ranked), range(MOST), strict=False))


def _first_of_each(ranked: Sequence[Proposal]) -> Iterator[Proposal]:
    seen: set[object] = set()
    for each in ranked:
        answer = each.found.answer
        poured = frozenset(item.key for item in answer.ingredients) if answer else None
        root = each.found.profile.origin[-1].stem
        if not {poured, root} & seen:
            seen |= {poured, root}
            yield each
