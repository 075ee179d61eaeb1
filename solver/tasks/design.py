"""Design a drink: the proven optimum of a request, from what the bar has."""

from __future__ import annotations

import math
import time
from dataclasses import replace

from solver.clock import Clock
from solver.drinks.answer import Answer
from solver.harmony.harmony import BottleWish
from solver.pantry.avoidance import Against, all_against
from solver.pantry.bar import Bar
from solver.pantry.ingredient import Ingredient
from solver.pantry.profile import Profile
from solver.requests.asked_drink import AskedDrink
from solver.requests.choose_drink import Chosen
from solver.requests.in_keeping_sets import unlike
from solver.requests.request import Request
from solver.requests.word_meanings import said_words
from solver.search.lexicographic import Agreed, Best, Disagreed, SecondOpinion, verified
from solver.search.milp.backend import Backend
from solver.search.most_in_keeping import Targets
from solver.search.problem import Drink, Goal, Problem
from solver.search.result import Impossible, Optimal, Result, Stopped
from solver.search.tolerances import UNNOTICED, gap_of
from solver.tasks.comparative_wishes import with_step_targets
from solver.tasks.design_result import FAR, Design, Explain, FarOff, Status
from solver.tasks.offered_drink import offered_drink
from solver.tasks.subproblems import Subproblems
from solver.tasks.why import Why, why_answer, why_beneath, why_impossible, why_in_keeping

LIMITS_S = 3.0
"""Seconds to tell what holds an answer back where nobody asked for it: our own choice."""
CONFLICTS_SHARE = 1 / 3
"""Share of the time to tell why there is no drink where nobody asked for it: our own choice."""


def design(
    profile: Profile,
    bar: Bar,
    request: Request,
    backend: Backend,
    *,
    clock: Clock | None = None,
    verify: bool = False,
    explain: Explain = Explain.NOTHING,
    plain: AskedDrink | None = None,
) -> Design:
    """The best drink for `request` with its proof, and alternatives of other base families and
    modifiers.

    The search ends with the `clock`, by default that of the request; after an interrupt, what is
    known is returned. With `verify`, `backend` solves the same problem without enumeration. `plain`
    is the request without comparisons, if known.

    Raises:
        BadInput, BadInputs: something asked for can't be read, is not known, or has no price where
            the cost matters.
    """
    started = time.monotonic()
    clock = clock or Clock.of(request.seconds)
    plain = plain or AskedDrink.of(profile, bar, replace(request, steps=()))
    problems = Subproblems(plain, backend, clock)
    match with_step_targets(problems, request):
        case Stopped(interrupted=interrupted):
            problem = plain.problem()
            return unsearched(plain, problem, backend, interrupted=interrupted, started=started)
        case Request() as request if request != plain.request:
            problems = Subproblems(plain.again(request), backend, clock)
    problems, found, shows_less = offered_drink(problems)
    work = _Search(problems, found, explain, started, verify=verify, shows_less=shows_less)
    if not _interrupted(found.result):
        work.go_on()
    return replace(work.result(), steps=request.steps)


def design_as_asked(
    profile: Profile,
    bar: Bar,
    request: Request,
    backend: Backend,
    *,
    clock: Clock | None = None,
    verify: bool = False,
    explain: Explain = Explain.NOTHING,
    plain: AskedDrink | None = None,
) -> Design:
    """As `design`; where a longer drink is asked for, the long one of its profile, if there is one.

    Raises:
        BadInput, BadInputs: as `design`.
    """
    clock = clock or Clock.of(request.seconds)
    if not request.steps:
        return design(
            profile, bar, request, backend, clock=clock, verify=verify, explain=explain, plain=plain
        )
    from solver.tasks.longer_drink import longer_design, only_larger

    def designed(each: Profile, wish: Request, told: Explain) -> Design:
        return design(each, bar, wish, backend, clock=clock, verify=verify, explain=told)

    long = longer_design(profile, bar, request, designed, explain)
    if long is not None:
        return replace(long, steps=request.steps)
    found = design(
        profile, bar, request, backend, clock=clock, verify=verify, explain=explain, plain=plain
    )
    return replace(found, only_larger=only_larger(found, request))


def unsearched(
    asked: AskedDrink, problem: Problem, backend: Backend, *, interrupted: bool,
    started: float | None = None,
) -> Design:  # fmt: skip
    """The result of a request for which nothing was searched.

    `started` is when its preparation began, on the monotonic clock; now if None.
    """
    problems = Subproblems(asked, backend, Clock(0.0))
    nothing = Stopped(None, math.inf, 0.0, interrupted)
    found = Chosen(problem, problem, nothing, nothing)
    began = time.monotonic() if started is None else started
    return _Search(problems, found, Explain.NOTHING, began, verify=False).result()


class _Search:
    """The result of one request, built in steps; an interrupted step keeps what was there before.

    `found` is the answer; alternatives, verification and reasons may follow.
    """

    def __init__(
        self,
        problems: Subproblems,
        found: Chosen,
        explain: Explain,
        started: float,
        *,
        verify: bool,
        shows_less: bool = False,
    ) -> None:
        self.problems = problems
        self.shows_less = shows_less
        self.found = found
        self.explain = explain
        self.started = started
        self.interrupted = _interrupted(found.result)
        self.answer = self._answer(found.problem, _drink(found.result))
        below = found.beneath
        self.beneath = None if below is None else self._answer(found.problem, below.drink)
        self.others: list[Answer] = []
        # Nothing counts as looked for until the search for it has ended.
        self.cut = self.answer is not None and problems.asked.request.alternatives > 0
        self.verdict: SecondOpinion | None = None
        if verify and found.problem.candidates:
            self.verdict = Stopped(None, math.inf, 0.0, interrupted=False)
        self.why: Why | None = None
        self.seconds = time.monotonic() - started

    def go_on(self) -> None:
        """Find alternatives, verify, and explain, until the user stops it."""
        try:
            if isinstance(self.found.result, Optimal):
                self._find_others()
            self.seconds = time.monotonic() - self.started
            if self.verdict is not None:
                self.verdict = self._verified()
                self._go_on_from(self.verdict)
            self.why = self._reasons()
            self.interrupted = self.why is not None and self.why.interrupted
        except KeyboardInterrupt:
            self.interrupted = True

    def _find_others(self) -> None:
        """Find the best drinks that differ from the answer and each other in base family and
        modifiers.

        Every bottle of the shelf counts, also those that another one represents in the search.
        """
        asked, last = self.problems.asked, self.answer
        wishes: list[BottleWish] = []
        while last is not None and len(self.others) < asked.request.alternatives:
            wishes += unlike(asked, ((p.part, p.ingredient.key) for p in last.pours))
            found = self.problems.choose(wishes)
            self._go_on_from(found.result)
            if isinstance(found.result, Stopped):
                return
            last = self._answer(found.problem, _drink(found.result))
            self.others += [] if last is None else [last]
        self.cut = False

    def _verified(self) -> SecondOpinion:
        """The verdict of a MILP solver, without enumeration and without a list of sets."""
        found, backend, clock = self.found, self.problems.backend, self.problems.clock
        goal = found.problem.goal
        if found.beneath is not None:
            return self.problems.verified(found.searched, found.beneath.drink)
        share = self.problems.asked.request.as_in_keeping_as
        if share is not None and goal.measure is not None and isinstance(found.result, Optimal):
            return self.problems.verified_with_floor(found.searched, share, found.result)
        if found.keeping is None or goal is not Goal.IN_KEEPING:
            searched = Best(found.searched, found.optimum, found.result)
            return verified(searched, backend, clock)
        targets = found.keeping.targets
        if targets.closest is not None:
            closest = Optimal(targets.closest, targets.off, targets.off)
            verdict = verified(Best(found.problem, closest, closest), backend, clock)
            if not isinstance(verdict, Agreed):
                return verdict
        return self.problems.verified(found.searched, found.keeping.drink)

    def _go_on_from(self, found: Result | SecondOpinion) -> None:
        """Raise KeyboardInterrupt if the user stopped a result."""
        if _interrupted(found):
            raise KeyboardInterrupt

    def _reasons(self) -> Why | None:
        first, explain, clock = self.found.optimum, self.explain, self.problems.clock
        everything = explain is Explain.EVERYTHING
        if explain is Explain.NOTHING or isinstance(first, Stopped):
            return None
        share = clock.left if everything else LIMITS_S
        if self.beneath is not None:
            return why_beneath(self.problems.within(share), self.beneath, structure=everything)
        if isinstance(first, Impossible) or self.answer is None:
            whole = self.problems.asked.request.seconds
            patience = clock.left if everything else CONFLICTS_SHARE * whole
            return why_impossible(self.problems.within(patience))
        if explain is Explain.CONFLICTS:
            return None
        by_sets = self.problems.asked.request.goal is Goal.IN_KEEPING
        targets = self.found.targets or Targets(())
        if by_sets and not targets.off:
            return why_in_keeping(self.problems.within(share), self.answer, structure=everything)
        held = self.problems.within(share, () if by_sets else targets.limits)
        return why_answer(held, first.bound, self.answer, structure=everything)

    def _answer(self, problem: Problem, drink: Drink | None) -> Answer | None:
        return None if drink is None else self.problems.answer_of(problem, drink)

    def result(self) -> Design:
        """All that is known so far."""
        asked, first, chosen = self.problems.asked, self.found.optimum, self.found.result
        goal = self.found.problem.goal.measure
        floored = asked.request.as_in_keeping_as is not None
        by_sets = floored or (self.found.keeping is not None and goal is None)
        compared = None if isinstance(first, Stopped) else first.compared
        rival = self.verdict.second if isinstance(self.verdict, Disagreed) else None
        return Design(
            profile=asked.profile,
            glass=asked.request.glass or asked.profile.glass,
            demands=asked.demands,
            problem=self.found.problem,
            targets=self.found.targets,
            keeping=self.found.keeping,
            as_in_keeping_as=asked.request.as_in_keeping_as,
            beneath=self.beneath,
            status=Status.DISPUTED if rival else _status(chosen),
            interrupted=self.interrupted,
            answer=self.answer,
            alternatives=tuple(self.others),
            asked_alternatives=asked.request.alternatives,
            alternatives_cut=self.cut,
            goal=goal,
            goal_settled=not isinstance(first, Stopped),
            objective=_value(chosen if goal is None else first),
            bound=math.inf if isinstance(first, Impossible) else first.bound,
            tolerance=UNNOTICED if goal is None else gap_of(goal),
            compared=compared,
            solver=self.problems.backend.name if compared is None and not by_sets else None,
            verdict=self.verdict,
            rival=self._answer(self.found.problem, _drink(rival)) if rival else None,
            explain=self.explain,
            why=self.why,
            left_out=_left_out(asked.profile, asked.bar, asked.request),
            avoided=asked.request.avoided,
            words=said_words(asked),
            past=tuple(
                row
                for row in asked.bar.past
                if asked.bar.past_row(row.ingredient.key) is row
                and any(part.accepts(row.ingredient) for part in asked.profile.parts)
            ),
            shows_less=self.shows_less,
            far_off=_far_off(self.answer, asked.request),
            seconds=self.seconds,
        )


def _status(found: Result) -> Status:
    match found:
        case Optimal():
            return Status.OPTIMAL
        case Impossible():
            return Status.IMPOSSIBLE
        case Stopped():
            return Status.STOPPED


def _drink(found: Result) -> Drink | None:
    """The best drink known, proven or not; None if there is none."""
    match found:
        case Optimal(drink=drink) | Stopped(incumbent=drink):
            return drink
        case Impossible():
            return None


def _value(found: Result) -> float:
    return math.inf if isinstance(found, Impossible) else found.value


def _interrupted(found: Result | SecondOpinion | None) -> bool:
    return isinstance(found, Stopped) and found.interrupted


def _far_off(answer: Answer | None, request: Request) -> tuple[FarOff, ...]:
    """The values asked for that an answer is not near."""
    asked = {wish.measure.name: wish.span.aim for wish in request.ranged}
    found: list[FarOff] = []
    if answer is None:
        return ()
    for aim in answer.aims:
        wanted, value = asked.get(aim.measure.name), answer.values[aim.measure.name]
        if wanted is None or value is None:
            continue
        steps = aim.distance(value)
        if abs(steps) > FAR:
            found.append(FarOff(aim.measure, wanted, value, steps))
    return tuple(found)


def _left_out(profile: Profile, bar: Bar, request: Request) -> tuple[Ingredient, ...]:
    """Bottles that would fit, but of which too little is known for what is avoided; by name."""
    words = request.avoided
    found = [
        item
        for item in (stocked.ingredient for stocked in bar.stock)
        if all_against(bar.told_of(item), words) == {Against.NOT_KNOWN}
        and any(part.accepts(item) for part in profile.parts)
    ]
    return tuple(sorted(found, key=lambda ingredient: ingredient.name))
