"""Fix and optimise: replan ten drinks while the serves of all others stay fixed.

What ten drinks pour, and what is got of it, is a small program however many drinks there are
(Helber and Sahling, International Journal of Production Economics 123, 2010). Its relaxation is
rounded and improved by exchanges; the result is kept if its exact loss is less.
"""

from __future__ import annotations

import random
from collections.abc import Callable, Mapping, Sequence
from typing import Final

from solver.clock import Clock
from solver.night.lot_sizing import Got
from solver.night.plan_rows import NightRows
from solver.night.serve_exchange import ExchangeSearch, ValuedServes
from solver.search.milp.highs import FoundInFloats, solve_by_highs
from solver.search.milp.integer_program import Enough, IntTerms, SolvedProgram, restricted
from solver.search.milp.relax_and_round import best_rounding, round_all

DRINKS: Final = 10
"""Drinks that are replanned together."""
COMMON: Final = 0.25
"""An item poured by more than this share of the drinks does not make two of them related."""
STEP_S: Final = 4.0
"""Seconds of a step, at most."""
CHAINS: Final = 15
"""Chains of exchanges in a row without improvement after which a step ends."""
STEP_GAP: Final = 0.002
"""Gap at which a step may end, as a share of the whole loss."""


class FixAndOptimise:
    """Improves serves step by step."""

    def __init__(self, rows: NightRows, goal: IntTerms, serves: ValuedServes) -> None:
        """Begin with `serves`; `goal` is the objective of the rows."""
        self.rows, self.goal, self.serves = rows, goal, serves
        self._pick = random.Random(1)  # noqa: S311 - chance is only for variety
        users: dict[int, list[int]] = {}
        for at, drink in enumerate(rows.question.drinks):
            for item in drink.takes:
                users.setdefault(item, []).append(at)
        most = COMMON * len(rows.question.drinks)
        self._users = {item: found for item, found in users.items() if len(found) <= most}

    def run(self, clock: Clock, most_in_vain: int, ended: Callable[[], bool]) -> None:
        """Take steps until the clock or `ended` says stop, or `most_in_vain` bring nothing."""
        in_vain = 0
        while clock.left and not ended() and in_vain < most_in_vain:
            clock.still()
            found = self._step(self._related(), clock.within(STEP_S))
            in_vain += 1
            if found is not None and found.loss < self.serves.loss:
                self.serves, in_vain = found, 0

    def _related(self) -> list[int]:
        """Some drinks that share items, at random."""
        drinks = self.rows.question.drinks
        order = self._pick.sample(range(len(drinks)), len(drinks))
        found = dict.fromkeys(order[:1])
        for drink in order:
            found[drink] = None
            for item in drinks[drink].takes:
                found.update(dict.fromkeys(self._users.get(item, ())))
            if len(found) >= DRINKS:
                break
        return list(found)[:DRINKS]

    def _step(self, drinks: Sequence[int], clock: Clock) -> ValuedServes | None:
        """The serves after replanning some drinks; None if that has no solution in time."""
        before = known(self.rows, self.serves)
        kept = {v: before[v] for v in self._kept(drinks)}
        program, free = restricted(self.rows.program, kept)
        position = {v: at for at, v in enumerate(free)}
        goal = {position[v]: c for v, c in self.goal.items() if v in position}
        hint = {at: before[v] for at, v in enumerate(free) if v in before}
        enough = Enough(within=int(STEP_GAP * self.serves.loss))
        rough = solve_by_highs(program, goal, clock, set(program.leads), enough, hint)
        if not isinstance(rough, FoundInFloats):
            return None
        near = best_rounding(program, goal, clock, rough.values)
        values = (
            near.values if isinstance(near, SolvedProgram) else round_all(program, rough.values)
        )
        new = dict(zip(free, values, strict=True))
        serves = [[new.get(v, before[v]) for v in night] for night in self.rows.serves]
        found = self.serves.anew(serves, given(self.rows, new))
        exchanges(self.rows, found, drinks).run(clock, CHAINS)
        return found

    def _kept(self, drinks: Sequence[int]) -> list[int]:
        """The variables that stay: serves of other drinks, and batches that only these pour."""
        rows, question = self.rows, self.rows.question
        others = set(range(len(question.drinks))).difference(drinks)
        kept = [night[at] for night in (*rows.serves, *rows.so_far) for at in others]
        poured = {item for at in drinks for item in question.drinks[at].takes}
        for source, ready in zip(question.sources, rows.units, strict=True):
            kept += ready.values() if source.takes and source.item not in poured else []
        return kept


def exchanges(rows: NightRows, serves: ValuedServes, among: Sequence[int] = ()) -> ExchangeSearch:
    """An exchange search within the limits of the rows."""
    lows, highs = rows.program.lows, rows.program.highs

    def limits(variables: Sequence[int]) -> list[tuple[int, int]]:
        return [(lows[v], highs[v]) for v in variables]

    return ExchangeSearch(
        serves, [limits(night) for night in rows.serves], limits(rows.totals), among
    )


def given(rows: NightRows, about: Mapping[int, int]) -> list[Got]:
    """The units got, by the values of variables, without by-products (`lot_sizing`)."""
    return [
        (at, day, about[v])
        for at, ready in enumerate(rows.units)
        for day, v in ready.items()
        if about.get(v) and rows.question.sources[at].beside is None
    ]


def known(rows: NightRows, serves: ValuedServes) -> dict[int, int]:
    """The values of the variables that serves, and what is got for them, determine."""
    found = {v: 0 for ready in rows.units for v in ready.values()}
    for at, day, count in serves.got:
        found[rows.units[at][day]] += count
    sums = [0] * len(rows.totals)
    for night, so_far, counts in zip(rows.serves, rows.so_far, serves.serves, strict=True):
        sums = [before + count for before, count in zip(sums, counts, strict=True)]
        found.update(zip(night, counts, strict=True))
        found.update(zip(so_far, sums, strict=True))
    return found
