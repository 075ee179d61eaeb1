"""Ask a request of every profile, and return the best of the answers.

Drinks of different profiles are compared by the worth of their ingredients less the worth of the
best set that the bar could pour of the same profile if nothing was asked. Worths are logarithms of
shares of drinks, so the difference is the logarithm of how many times less usual the drink is.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field, replace

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
from solver.requests.in_keeping_sets import InKeepingSets
from solver.requests.request import ComparedStep, Request
from solver.search.milp.backend import Backend
from solver.search.presolve import trivially_infeasible
from solver.search.problem import Goal
from solver.search.sets.best_first import best_first
from solver.tasks.design import design
from solver.tasks.design_result import Design, Status
from solver.tasks.why_no_profile import WhyNoProfile, why_no_profile

MOST_PROPOSED = 3
"""Drinks that are answered with."""
TURNS = 2
"""How often a profile is searched: again where its first turn ran out of time."""


@dataclass(frozen=True)
class Proposal:
    """A drink of one profile; `from_usual` is its worth below the best set of that profile."""

    found: Design
    from_usual: float


@dataclass(frozen=True)
class AnyProfileResult:
    """The result of asking every profile.

    `best` are drinks of different families of profiles, best first; `having` counts the profiles
    with a drink. `none` are those proven to have none, `open` those for which there was no time,
    `misread` those whose files cannot be read. `steps` are what was asked by comparison, of each
    profile with what it would serve otherwise. `why_none` says why none has a drink, if that is
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
    steps: tuple[ComparedStep, ...] = ()


def check_any(
    bar: Bar, request: Request, backend: Backend, clock: Clock | None = None, *, why: bool = True
) -> AnyProfileResult:
    """Ask every profile, the bar's own included, within the time of the request.

    Each may take an equal part of the time that is left; those that ran out of it are asked once
    more when all others are done. Without `why`, it is not explained why none has a drink.

    Raises:
        BadInput, BadInputs: something asked for can't be read or is not known.
    """
    clock = clock or Clock.of(request.seconds)
    patience = clock.left
    readable, misread = readable_profiles(bar.profiles)
    profiles = [profile for profile in readable if not profile.only_longer]
    asking = _Asking(bar, request, backend, clock)
    asking.sort_out(profiles)
    for _ in range(TURNS):
        asking.take_turns()
    told = why and not (asking.best or asking.waiting or asking.interrupted or asking.far_off)
    return AnyProfileResult(
        best=_of_different_families(sorted(asking.best.values(), key=_rank)),
        asked=len(profiles),
        having=len(asking.best),
        none=tuple(sorted(plain.profile.name for plain in asking.none)),
        open=tuple(plain.profile.name for _, plain in asking.waiting),
        misread=tuple(misread),
        why_none=asking.why_none() if told else None,
        interrupted=asking.interrupted,
        seconds=patience - clock.left,
        steps=request.steps,
    )


@dataclass
class _Asking:
    """What is known of each profile so far: its drink, that it has none, or that it waits.

    A profile waits with its request, and with that request without comparisons.
    """

    bar: Bar
    request: Request
    backend: Backend
    clock: Clock
    best: dict[str, Proposal] = field(default_factory=dict)
    none: list[AskedDrink] = field(default_factory=list)
    waiting: list[tuple[Request, AskedDrink]] = field(default_factory=list)
    asked: int = 0
    interrupted: bool = False
    far_off: bool = False
    """Whether a profile has a drink so far off that it counts as none."""

    def sort_out(self, profiles: Sequence[Profile]) -> None:
        """Tell the profiles that cannot have a drink, a hundred times sooner than by a search."""
        taste = taste_of(self.bar)
        self.asked = len(profiles)
        for profile in profiles:
            mine = _within_reach(self.request, profile)
            pourables = Pourables(profile, self.bar, taste)
            plain = AskedDrink.of(profile, self.bar, replace(mine, steps=()), pourables)
            if trivially_infeasible(plain.problem()):
                self.none.append(plain)
            else:
                self.waiting.append((mine, plain))

    def take_turns(self) -> None:
        """Search every profile that waits, each for an equal part of the time that is left."""
        left, self.waiting = self.waiting, []
        for done, (mine, plain) in enumerate(left):
            if self.interrupted or self.clock.left == 0:
                self.waiting.append((mine, plain))
                continue
            self.clock.tell(Work.ITEMS, self.asked - len(left) + done, self.asked)
            share = self.clock.unwatched.within(self.clock.left / (len(left) - done))
            found = design(plain.profile, self.bar, mine, self.backend, clock=share, plain=plain)
            self.interrupted = found.interrupted
            if found.answer is not None and not found.far_off:
                worth = _from_usual(found.answer, plain, self.clock)
                self.best[plain.profile.name] = Proposal(found, worth)
            self.far_off |= bool(found.far_off)
            if found.status is Status.IMPOSSIBLE or found.far_off:
                self.none.append(plain)
            elif found.status is not Status.OPTIMAL:
                self.waiting.append((mine, plain))

    def why_none(self) -> WhyNoProfile:
        """Why none of the profiles has a drink."""
        return why_no_profile(
            self.none, self.bar, self.backend, self.clock, _from_usual, self._best_of
        )

    def _best_of(self, other: Bar) -> tuple[str, Answer] | None:
        """The best drink of another bar, and its profile; None if there is none."""
        found = check_any(other, self.request, self.backend, self.clock, why=False)
        first = next(iter(found.best), None)
        if first is None or first.found.answer is None:
            return None
        return first.found.profile.name, first.found.answer


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
    question = InKeepingSets(anything, problem).question(problem)
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
    return tuple(
        each for each, _ in zip(_first_of_each(ranked), range(MOST_PROPOSED), strict=False)
    )


def _first_of_each(ranked: Sequence[Proposal]) -> Iterator[Proposal]:
    seen: set[object] = set()
    for each in ranked:
        answer = each.found.answer
        poured = frozenset(item.key for item in answer.ingredients) if answer else None
        root = each.found.profile.origin[-1].stem
        if not {poured, root} & seen:
            seen |= {poured, root}
            yield each
