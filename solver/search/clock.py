"""How long the user waits."""

from __future__ import annotations

import time
from dataclasses import dataclass


@dataclass(frozen=True)
class Clock:
    """When the user's patience ends, on the monotonic clock."""

    ends: float

    @classmethod
    def of(cls, seconds: float) -> Clock:
        """A clock that ends `seconds` from now."""
        return cls(time.monotonic() + seconds)

    @property
    def left(self) -> float:
        """Seconds left, never negative."""
        return max(0.0, self.ends - time.monotonic())

    def within(self, seconds: float) -> Clock:
        """A clock that ends `seconds` from now, or with this one if that is sooner."""
        return Clock(min(self.ends, time.monotonic() + seconds))
