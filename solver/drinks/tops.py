"""What makes a drink long: its top."""

from __future__ import annotations

from collections.abc import Sequence

from solver.pantry.pour import Pour

TOPS = ("lengthener", "weak", "sparkling", "juice")
"""Parts that make a drink long; of a drink that has several, the first is what it gets more of."""


def tops_of(pours: Sequence[Pour]) -> tuple[Pour, ...]:
    """What of a drink makes it long: what it gets more of where it is to be longer."""
    parts = {pour.part for pour in pours}
    first = next((name for name in TOPS if name in parts), None)
    return tuple(pour for pour in pours if pour.part == first)
