"""Every tolerance of the search, and which must exceed which.

Several searches answer one question: the exact evaluator, windows, inequalities on totals, integer
rows, curves. A proof holds only if what prunes is looser than what decides. `tests/search` holds
this table against the values.

    tolerance           value  of                         must be more than
    SAME_TOTAL_ML       1e-10  mL, totals counted as one  (less than LIMIT_SLACK of any total)
    LIMIT_SLACK         1e-9   a limit, exact evaluator   rounding of a sum of pours, 1e-15
    SAME_POUR           1e-9   an amount                  the same
    SAME_GOAL           1e-9   a goal                     the same
    INTEGER_SLACK       1e-9   a bound rounded up         the same
    WINDOW_EDGE         1e-9   a ratio, absolute          the same
    WINDOW_SLACK        2e-9   a limit, windows           LIMIT_SLACK
    ROW_SLACK           1e-8   a bound, inequalities      WINDOW_SLACK
    ROW_SLACK_ABSOLUTE  1e-7   a left-hand side           ROW_SLACK, LIMIT_SLACK * LEAST_LIMIT
    SAME_VALUE          1e-6   a value on a curve         LIMIT_SLACK, SAME_GOAL
    SAME_LEVEL          1e-6   mL, pours that are equal   SAME_POUR of the largest pour
    FINEST_BAND         1e-5   a volume                   SAME_VALUE
    OFF_AIM_GAP         0.05   noticeable differences     SAME_GOAL
    UNNOTICED           0.25   noticeable differences     OFF_AIM_GAP

`SAME_VALUE` stands in `solver/explain/pareto_front.py`, which knows nothing of the search.
"""

from __future__ import annotations

from typing import Final

from solver.measures import Measure

SAME_TOTAL_ML: Final = 1e-10
"""Totals of a part that differ by less are counted as one."""

LIMIT_SLACK: Final = 1e-9
"""Share of a limit by which the exact evaluator lets a value lie beyond it: far above rounding
error, far below what anybody measures."""
LEAST_LIMIT: Final = 1e-3
"""Upper limits below this have the slack of this value: rounding leaves a trace of what is not
there at all."""

SAME_POUR: Final = 1e-9
"""Share by which two pours may differ and still be the same."""
SAME_LEVEL: Final = 1e-6
"""Amounts of pours that must be equal may differ by this: a millionth of a millilitre."""

SAME_GOAL: Final = 1e-9
"""Drinks whose goals differ by less are equally good."""

WINDOW_SLACK: Final = 2 * LIMIT_SLACK
"""Share of a limit by which its window is wider: what the exact evaluator lets pass, twice."""
WINDOW_EDGE: Final = 1e-9
"""What is added to both ends of the window of a ratio, against rounding."""

ROW_SLACK: Final = 1e-8
"""Share by which every bound of an inequality on totals is loosened."""
ROW_SLACK_ABSOLUTE: Final = 1e-7
"""What is added to every such bound, against rounding of the left-hand side."""

INTEGER_SLACK: Final = 1e-9
"""Share of a bound on whole numbers, or of 1, that is taken off before it is rounded up."""

FINEST_BAND: Final = 1e-5
"""Share of the volume below which enclosures of nonlinear terms are as fine as rounding allows:
drinks are then cut off one by one."""

OFF_AIM_GAP: Final = 0.05
"""Gap at which a MILP solver may stop minimising the distance from the aims, in noticeable
differences."""
GOAL_GAPS: Final = {
    "cost": 0.001,
    "ethanol": 0.01,
    "bottles": 0.5,
    "changes": 0.02,
    "shift": 0.01,
    "oddness": 0.01,
}
"""The same for each measure that can be a goal, in its own unit."""

UNNOTICED: Final = 0.25
"""Noticeable differences, over all aims together, by which a drink may be further off than the
closest, so that fewer ingredients, or what goes together, decide: our own choice, a quarter of what
half of all tasters would notice in one measure."""


def gap_of(goal: Measure | None) -> float:
    """The gap at which a MILP solver may stop minimising a goal, in its unit.

    None is the distance from the aims.
    """
    return OFF_AIM_GAP if goal is None else GOAL_GAPS[goal.name]
