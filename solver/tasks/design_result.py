"""The result of a design: an answer or a proof that there is none, and what is still open."""

from __future__ import annotations

import enum
from dataclasses import dataclass

from solver.drinks.answer import Answer
from solver.measures import Measure
from solver.pantry.avoidance import Avoidance
from solver.pantry.ingredient import Ingredient
from solver.pantry.profile import Profile
from solver.pantry.stocked import Stocked
from solver.requests.demands import Demand
from solver.requests.request import ComparedStep
from solver.requests.word_meanings import SaidWord
from solver.search.lexicographic import (
    SecondOpinion,
)
from solver.search.most_in_keeping import MostInKeeping, Targets
from solver.search.problem import Problem
from solver.search.result import Stopped
from solver.tasks.why import Why


@enum.unique
class Status(enum.StrEnum):
    """What is proven about a request."""

    OPTIMAL = "optimal"
    """There is an answer, and no better one."""
    IMPOSSIBLE = "impossible"
    """There is no drink."""
    STOPPED = "stopped"
    """Neither is proven: there was no time, or the user stopped the search."""
    DISPUTED = "disputed"
    """A second solver comes to something else: one of the two is wrong, and the fault is ours."""


@enum.unique
class Open(enum.StrEnum):
    """Something that was asked for and is not settled: out of time, or interrupted."""

    ANSWER = "answer"
    ALTERNATIVES = "alternatives"
    VERIFY = "verify"
    """A second solver's word."""
    REASONS = "reasons"


@enum.unique
class Explain(enum.Enum):
    """How much is explained."""

    NOTHING = "nothing"
    CONFLICTS = "conflicts"
    """Conflicts and ways out where there is no answer; nothing where there is one."""
    LIMITS = "limits"
    """What of all that was asked holds an answer back; or the conflicts, and ways out."""
    EVERYTHING = "everything"
    """The same as long as it takes; the profile's own pours and the jigger too."""


FAR = 2.0
"""Noticeable differences by which a value that was asked for is not near: where one is noticed by
half of all tasters, two are by nine in ten (of a normal distribution)."""


@dataclass(frozen=True)
class FarOff:
    """A value that was asked for, and that even the closest drink is not near: `steps` are
    noticeable differences, below 0 for too little."""

    measure: Measure
    asked: float
    value: float
    steps: float


@dataclass(frozen=True)
class Lengthens:
    """The drink that a long one was made of, a profile's or a spec's: what of it is `kept` in the
    long one, and what is `left_out`; `steps` are a spec's own words that are of the short one."""

    name: str
    kept: tuple[Ingredient, ...]
    left_out: tuple[Ingredient, ...]
    steps: tuple[str, ...] = ()


@dataclass(frozen=True)
class Design:
    """The result of a request: an answer, or the proof that there is none.

    `objective` and `bound` are of `goal`, None for the distance from the aims: no drink on the
    shelf has a goal below `bound`; if `goal_settled`, none is below that of the best. Goals are
    minimised among the drinks within `targets`; `keeping` is the proof of what is most in keeping,
    if that decided. `beneath` is the drink most in keeping, if even that is less so than asked.

    `compared` is the number of ways to pour that were compared, all there are; None if they were
    too many, and `solver` proved it. `verdict` is that of a second solver, if asked, and `rival`
    its drink if it disagrees. `left_out` are bottles that would fit, but of which too little is
    known for what is `avoided`; `past` those that would fit but for their last day. `words` is what
    the bar's words were turned into. `shows_less` is true if less of the featured ingredient is
    poured than usual, since the usual pour would be further off target. `lengthens` is the drink
    that was asked for longer, if this is its long one; `only_larger` is true if there is no long
    one of such a drink, and there is merely to be more of it. `steps` are what was asked by
    comparison. `far_off` is what was asked for and the answer is not near: it is the closest then,
    and not what was asked.
    """

    profile: Profile
    glass: str | None
    demands: tuple[Demand, ...]
    problem: Problem
    targets: Targets | None
    keeping: MostInKeeping | None
    as_in_keeping_as: float | None
    beneath: Answer | None
    status: Status
    interrupted: bool
    answer: Answer | None
    alternatives: tuple[Answer, ...]
    asked_alternatives: int
    alternatives_cut: bool
    goal: Measure | None
    goal_settled: bool
    objective: float
    bound: float
    tolerance: float
    compared: int | None
    solver: str | None
    verdict: SecondOpinion | None
    rival: Answer | None
    explain: Explain
    why: Why | None
    left_out: tuple[Ingredient, ...]
    avoided: tuple[Avoidance, ...]
    words: tuple[SaidWord, ...]
    past: tuple[Stocked, ...]
    seconds: float
    shows_less: bool = False
    lengthens: Lengthens | None = None
    only_larger: bool = False
    steps: tuple[ComparedStep, ...] = ()
    far_off: tuple[FarOff, ...] = ()

    @property
    def open(self) -> tuple[Open, ...]:
        """What was asked for and is not settled."""
        asked = self.explain is Explain.EVERYTHING
        return tuple(
            each
            for each, unsettled in (
                (Open.ANSWER, self.status is Status.STOPPED),
                (Open.ALTERNATIVES, self.alternatives_cut),
                (Open.VERIFY, isinstance(self.verdict, Stopped)),
                (Open.REASONS, asked and (self.why is None or self.why.undecided)),
            )
            if unsettled
        )
