"""When the user's patience ends, and what is told until then: the one clock of a command."""

from __future__ import annotations

import enum
import math
import time
from collections.abc import Callable
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, TypeVar

if TYPE_CHECKING:
    from concurrent.futures import Future

Waited = TypeVar("Waited")


class TimeUpError(Exception):
    """The clock, or the work that is allowed, ran out: nothing follows from what was begun."""


@enum.unique
class Work(enum.Enum):
    """What long work is counted in."""

    ITEMS = enum.auto()
    """Whatever a command goes through one by one."""
    BOXES = enum.auto()
    """Drinks that are settled, as a share of all."""
    SETS = enum.auto()
    """Sets of ingredients that were asked for a drink."""
    QUESTIONS = enum.auto()
    """Problems that were solved to find reasons."""
    ROUNDS = enum.auto()
    """Models that a solver of rows was given for one search."""
    STAGES = enum.auto()
    """What is minimised, one after another."""


@dataclass(frozen=True)
class Done:
    """How far work is: so much of so much, infinity where nobody knows of how much.

    `gap` is how much better the best may be than what is found, as a share of it, where known.
    """

    work: Work
    done: float
    of: float = math.inf
    gap: float | None = None


Watch = Callable[[Done | None], None]
"""Told how far the work is, as often as something is known; None where it still goes on."""
STILL_S = 0.2
"""Seconds between two words that a solver is still at it."""


@dataclass(frozen=True)
class Clock:
    """When the user's patience ends, on the monotonic clock, and who watches until then.

    A command has one, and hands it down: whatever may take longer than a blink looks at it.
    """

    ends: float
    watch: Watch | None = None

    @classmethod
    def of(cls, seconds: float, watch: Watch | None = None) -> Clock:
        """A clock that ends `seconds` from now."""
        return cls(time.monotonic() + seconds, watch)

    @property
    def left(self) -> float:
        """Seconds left, never negative."""
        return max(0.0, self.ends - time.monotonic())

    def check(self) -> None:
        """Go on, if there is time.

        Raises:
            TimeUpError: there is none.
        """
        if self.left == 0:
            raise TimeUpError

    def within(self, seconds: float) -> Clock:
        """A clock that ends `seconds` from now, or with this one if that is sooner."""
        return replace(self, ends=min(self.ends, time.monotonic() + seconds))

    @property
    def unwatched(self) -> Clock:
        """The same clock for work that is a part of what is told already."""
        return Clock(self.ends)

    def tell(self, work: Work, done: float, of: float = math.inf, gap: float | None = None) -> None:
        """Say how far the work is, if anybody watches."""
        if self.watch is not None:
            self.watch(Done(work, done, of, gap))

    def still(self) -> None:
        """Say that the work goes on, if anybody watches."""
        if self.watch is not None:
            self.watch(None)

    def wait(self, answer: Future[Waited]) -> Waited:
        """What comes of work beside this thread; whoever watches hears that it still goes on."""
        if self.watch is None:
            return answer.result()
        from concurrent.futures import wait  # slow to import, and most commands ask no solver

        while wait([answer], STILL_S).not_done:
            self.still()
        return answer.result()
