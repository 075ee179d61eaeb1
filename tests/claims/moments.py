"""Moments at which a search is cut short: the time is up, or the user interrupts it."""

from __future__ import annotations

import enum
import random
import sys
from collections.abc import Iterator
from contextlib import contextmanager
from inspect import CO_GENERATOR
from pathlib import Path
from types import FrameType
from unittest.mock import PropertyMock, patch

from solver.clock import Clock

SOLVER = str(Path(__file__).parents[2] / "solver")
AMPLE_S = 1e6


@enum.unique
class Cut(enum.Enum):
    """How a search is cut short."""

    TIME = "time"
    """From a look at the clock on, no clock has anything left."""
    SHARE = "share"
    """The same for the clock that is looked at, and those that end no later."""
    INTERRUPT = "interrupt"
    """The user interrupts it, once, at a look at the clock."""
    ANYWHERE = "anywhere"
    """The user interrupts it, once, at a call of any function of ours."""


@contextmanager
def counted(*, calls: bool = True) -> Iterator[dict[str, int]]:
    """Counts the looks at clocks and the calls of our functions; the time never ends.

    Without the calls, whose count takes longer than what is counted, only the looks.
    """
    counts = {"looks": 0, "calls": 0}

    def look() -> float:
        counts["looks"] += 1
        return AMPLE_S

    def profile(frame: FrameType, event: str, _: object) -> None:
        counts["calls"] += event == "call" and frame.f_code.co_filename.startswith(SOLVER)

    with patch.object(Clock, "left", PropertyMock(side_effect=look)):
        if calls:
            sys.setprofile(profile)
        try:
            yield counts
        finally:
            sys.setprofile(None)


@contextmanager
def cut_short(cut: Cut, at: int) -> Iterator[None]:
    """Whatever is searched within is cut short at the `at`-th look or call, from 1."""
    match cut:
        case Cut.TIME | Cut.SHARE | Cut.INTERRUPT:
            with patch.object(Clock, "left", property(_Left(cut, at))):
                yield
        case Cut.ANYWHERE:
            with _interrupted_at(at):
                yield


class _Left:
    """What clocks say that are looked at."""

    def __init__(self, cut: Cut, at: int) -> None:
        self.cut = cut
        self.at = at
        self.looks = 0
        self.ended = -float("inf")

    def __call__(self, clock: Clock) -> float:
        self.looks += 1
        if self.looks == self.at:
            if self.cut is Cut.INTERRUPT:
                raise KeyboardInterrupt
            self.ended = clock.ends if self.cut is Cut.SHARE else float("inf")
        return 0.0 if clock.ends <= self.ended else AMPLE_S


@contextmanager
def _interrupted_at(at: int) -> Iterator[None]:
    calls = 0

    def profile(frame: FrameType, event: str, _: object) -> None:
        nonlocal calls
        if event != "call" or not frame.f_code.co_filename.startswith(SOLVER):
            return
        calls += 1
        # Python drops what is raised while a generator is closed: the next function has it instead.
        if calls >= at and not frame.f_code.co_flags & CO_GENERATOR:
            raise KeyboardInterrupt

    with patch.object(Clock, "left", PropertyMock(return_value=AMPLE_S)):
        sys.setprofile(profile)
        try:
            yield
        finally:
            sys.setprofile(None)


def moment(rng: random.Random, counts: dict[str, int]) -> tuple[Cut, int]:
    """A moment within what was counted, early ones as likely as late ones."""
    cut = rng.choice(list(Cut))
    most = counts["calls" if cut is Cut.ANYWHERE else "looks"]
    return cut, max(1, round(most ** rng.random()) if rng.random() < 0.5 else rng.randint(1, most))
