"""How far long work is, in a few words."""

from __future__ import annotations

import math

from solver.clock import Done, Work


def progress_line(done: Done, items: str) -> str:
    """One line; `items` is what the command goes through one by one."""
    count = f"{done.done:,.0f}"
    of = "" if math.isinf(done.of) else f" of {done.of:,.0f}"
    match done.work:
        case Work.BOXES:
            return f"comparing: {done.done / done.of:.0%} of all drinks".replace("%", " %")
        case Work.SETS:
            return f"trying ingredients: set {done.done + 1:,.0f}"
        case Work.QUESTIONS:
            return f"finding out why: question {count}"
        case Work.ROUNDS:
            return f"proving: round {count}"
        case Work.STAGES:
            off = "" if not done.gap else f", at most {100 * done.gap:.0f} % from the best so far"
            return f"choosing: step {done.done + 1:.0f}{of}{off}"
        case Work.ITEMS:
            return f"{items}: {count}{of}"
