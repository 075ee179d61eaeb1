"""What commands end with: the codes that README and the help text name."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from solver.tasks.design_result import Design

ANSWERED = 0
IMPOSSIBLE = 1
"""Proven impossible, or nothing near a value that was asked for."""
MISTAKEN = 2
"""Something of the user's cannot be read."""
UNSETTLED = 3
"""Something that was asked for is not settled, as the time was up."""
DISPUTED = 4
"""Two solvers come to different ends: a fault of ours."""
FAULT = 70
"""A fault of equipour that is none of these."""
INTERRUPTED = 130
"""As shells count: 128 and the signal's number."""
READER_GONE = 141
"""Likewise, for a pipe that nobody reads."""

EXIT_CODES = """Exit codes: 0 an answer; 1 proven impossible, or nothing near a value asked for;
2 bad input; 3 stopped, and not all proven that was asked for; 4 two solvers disagree, a fault of
ours; 70 a fault of equipour; 74 the system failed; 130 interrupted; 141 nobody reads the output."""


def exit_code(found: Design) -> int:
    """The code of one answer."""
    return exit_code_of_all([found])


def exit_code_of_all(answers: Sequence[Design]) -> int:
    """The code of several: of what stands first in this list, that which holds of any of them."""
    from solver.tasks.design_result import Status

    if any(found.interrupted for found in answers):
        return INTERRUPTED
    if any(found.status is Status.DISPUTED for found in answers):
        return DISPUTED
    if any(found.open for found in answers):
        return UNSETTLED
    if any(found.status is Status.IMPOSSIBLE or found.far_off for found in answers):
        return IMPOSSIBLE
    return ANSWERED
