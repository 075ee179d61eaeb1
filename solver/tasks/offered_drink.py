"""The drink that is offered for a request: as much of what is to be shown as its targets let it."""

from __future__ import annotations

import math

from solver.requests.choose_drink import Chosen
from solver.search.result import Impossible, Stopped
from solver.tasks.subproblems import Subproblems


def offered_drink(problems: Subproblems) -> tuple[Subproblems, Chosen, bool]:
    """What is chosen, the request it is of, and whether that shows less than is usual.

    As much as is usual of something strong may be too much: better less than off target.
    """
    found = problems.choose()
    less = None if _misses(found) == 0 else problems.asked.shown_less()
    result = found.result
    if less is None or (isinstance(result, Stopped) and result.interrupted):
        return problems, found, False
    lesser = Subproblems(less, problems.backend, problems.clock)
    other = lesser.choose()
    if _misses(other) < _misses(found):
        return lesser, other, True
    return problems, found, False


def _misses(found: Chosen) -> float:
    """Noticeable differences by which the offered drink is off target; infinite for no drink."""
    result = found.result
    if isinstance(result, Impossible) or (isinstance(result, Stopped) and not result.incumbent):
        return math.inf
    return found.targets.off if found.targets else 0.0
