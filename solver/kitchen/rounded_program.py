"""Small programs in whole numbers: fractional coefficients are rounded for the solver."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

from solver.clock import Clock, TimeUpError
from solver.search.milp.integer_program import (
    CpSatProgram,
    Infeasible,
    Program,
    ProgramOutOfTime,
    SolvedProgram,
)

SCALE: Final = 1e7
"""Largest coefficient of a row once it is made whole."""
_NO_END: Final = 2**62


@dataclass(frozen=True)
class BatchRow:
    """A linear limit: coefficient times variable, added up, is at most `most`."""

    coefficients: tuple[float, ...]
    most: float


def minimise(
    costs: Sequence[float], rows: Sequence[BatchRow], highs: Sequence[int], clock: Clock
) -> tuple[int, ...] | None:
    """Whole numbers from 0 to `highs` that keep all rows at the least cost; None where none do.

    Coefficients are rounded to seven digits of the largest in their row. On a handful of variables
    the solver takes milliseconds.

    Raises:
        TimeUpError: it did not finish.
    """
    clock.check()
    program = Program()
    for high in highs:
        program.whole(0, high)
    for row in rows:
        whole, most = _whole(row)
        program.between(dict(enumerate(whole)), None, most)
    goal = {v: c for v, c in enumerate(_whole(BatchRow(tuple(costs), 0.0))[0]) if c}
    match CpSatProgram().minimise(program, goal, clock):
        case Infeasible():
            return None
        case SolvedProgram() as found if found.value <= found.bound:
            return found.values
        case SolvedProgram() | ProgramOutOfTime():
            raise TimeUpError


def _whole(row: BatchRow) -> tuple[list[int], int]:
    largest = max(map(abs, row.coefficients), default=0.0)
    if largest == 0:
        return [0] * len(row.coefficients), 0 if row.most >= 0 else -1
    factor = SCALE / largest
    most = max(-_NO_END, min(_NO_END, round(row.most * factor)))
    return [round(c * factor) for c in row.coefficients], most
