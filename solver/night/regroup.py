"""Better plans by planning some drinks anew, roughly, while the serves of all others stay.

What ten drinks pour, and what is got of it, is a small program however many drinks there
are (fix-and-optimise; Helber and Sahling, International Journal of Production Economics 2010). As
in a rough program serves are fractions at first; they are rounded, exchanged, and kept where what
they exactly come to is less.
"""

from __future__ import annotations

import random
from collections.abc import Callable, Mapping, Sequence
from typing import Final

from solver.clock import Clock
from solver.night.as_needed import Got
from solver.night.exchange import Exchanges, Serves
from solver.night.rows import NightRows
from solver.search.milp.in_floats import FoundInFloats, in_floats
from solver.search.milp.integer_program import Enough, SolvedProgram, Terms, restricted
from solver.search.milp.roughly import nearest, rounded

DRINKS: Final = 10
"""Drinks that are planned anew together."""
COMMON: Final = 0.25
"""What more than such a part of the drinks pour does not make two of them related."""
STEP_S: Final = 4.0
"""Seconds that a step may take at most."""
CHAINS: Final = 15
"""Chains of exchanges in a row that help nothing, after which a step ends."""
WITHIN: Final = 0.002
"""How far from the best a step may end, as a part of all that is lost."""


class Regrouping:
    """Serves that get better step by step."""

    def __init__(self, rows: NightRows, goal: Terms, serves: Serves) -> None:
        """Nothing is changed yet."""
        self.rows, self.goal, self.serves = rows, goal, serves
        self._pick = random.Random(1)  # noqa: S311 - chance is only for variety
        users: dict[int, list[int]] = {}
        for at, drink in enumerate(rows.question.drinks):
            for item in drink.takes:
                users.setdefault(item, []).append(at)
        most = COMMON * len(rows.question.drinks)
        self._users = {item: found for item, found in users.items() if len(found) <= most}

    def run(self, clock: Clock, most_in_vain: int, ended: Callable[[], bool]) -> None:
        """Step by step until the clock or something else has ended, or nothing helps any more."""
        in_vain = 0
        while clock.left and not ended() and in_vain < most_in_vain:
            clock.still()
            found = self._step(self._related(), clock.within(STEP_S))
            in_vain += 1
            if found is not None and found.loss < self.serves.loss:
                self.serves, in_vain = found, 0

    def _related(self) -> list[int]:
        """Drinks that pour some of the same."""
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

    def _step(self, drinks: Sequence[int], clock: Clock) -> Serves | None:
        """What planning some drinks anew comes to; None for nothing."""
        before = known(self.rows, self.serves)
        kept = {v: before[v] for v in self._kept(drinks)}
        program, free = restricted(self.rows.program, kept)
        position = {v: at for at, v in enumerate(free)}
        goal = {position[v]: c for v, c in self.goal.items() if v in position}
        hint = {at: before[v] for at, v in enumerate(free) if v in before}
        enough = Enough(within=int(WITHIN * self.serves.loss))
        rough = in_floats(program, goal, clock, set(program.leads), enough, hint)
        if not isinstance(rough, FoundInFloats):
            return None
        near = nearest(program, goal, clock, rough.values)
        values = near.values if isinstance(near, SolvedProgram) else rounded(program, rough.values)
        new = dict(zip(free, values, strict=True))
        serves = [[new.get(v, before[v]) for v in night] for night in self.rows.serves]
        found = self.serves.anew(serves, given(self.rows, new))
        exchanges(self.rows, found, drinks).run(clock, CHAINS)
        return found

    def _kept(self, drinks: Sequence[int]) -> list[int]:
        """What has to do with other drinks alone, and is not bought."""
        rows, question = self.rows, self.rows.question
        others = set(range(len(question.drinks))).difference(drinks)
        kept = [night[at] for night in (*rows.serves, *rows.so_far) for at in others]
        poured = {item for at in drinks for item in question.drinks[at].takes}
        for source, ready in zip(question.sources, rows.units, strict=True):
            kept += ready.values() if source.takes and source.item not in poured else []
        return kept


def exchanges(rows: NightRows, serves: Serves, among: Sequence[int] = ()) -> Exchanges:
    """Local search within the limits of rows."""
    lows, highs = rows.program.lows, rows.program.highs

    def limits(variables: Sequence[int]) -> list[tuple[int, int]]:
        return [(lows[v], highs[v]) for v in variables]

    return Exchanges(serves, [limits(night) for night in rows.serves], limits(rows.totals), among)


def given(rows: NightRows, about: Mapping[int, int]) -> list[Got]:
    """What is got of sources by values of some variables."""
    return [
        (at, day, about[v])
        for at, ready in enumerate(rows.units)
        for day, v in ready.items()
        if about.get(v)
    ]


def known(rows: NightRows, serves: Serves) -> dict[int, int]:
    """Values of what serves are, and of what is got for them."""
    found = {v: 0 for ready in rows.units for v in ready.values()}
    for at, day, count in serves.got:
        found[rows.units[at][day]] += count
    sums = [0] * len(rows.totals)
    for night, so_far, counts in zip(rows.serves, rows.so_far, serves.serves, strict=True):
        sums = [before + count for before, count in zip(sums, counts, strict=True)]
        found.update(zip(night, counts, strict=True))
        found.update(zip(so_far, sums, strict=True))
    return found
