"""When the user's patience ends: the one clock of a command, which every task looks at."""

from __future__ import annotations

import time
from dataclasses import dataclass


class TimeUpError(Exception):
    """The clock, or the work that is allowed, ran out: nothing follows from what was begun."""


@dataclass(frozen=True)
class Clock:
    """When the user's patience ends, on the monotonic clock.

    A command has one, and hands it down: whatever may take longer than a blink looks at it.
    """

    ends: float

    @classmethod
    def of(cls, seconds: float) -> Clock:
        """A clock that ends `seconds` from now."""
        return cls(time.monotonic() + seconds)

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
        return Clock(min(self.ends, time.monotonic() + seconds))
