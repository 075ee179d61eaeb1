"""How many examples a property draws, as a share of what the profile of Hypothesis says.

A property of whole commands or whole bars takes a share of them: few in the suite, and as much
more with `--hypothesis-profile sweep` as any other.
"""

from __future__ import annotations

from hypothesis import settings


def examples(share: float) -> int:
    """So many as a share of the profile's, at least one."""
    return max(1, round(share * settings().max_examples))
