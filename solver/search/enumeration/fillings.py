"""Fillings of the parts of a drink: counted without making them, then made part by part."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from itertools import compress

import numpy as np
import numpy.typing as npt

from solver.clock import Clock
from solver.search.enumeration.pour_vectors import Ints, Picks
from solver.search.exact import total_holds
from solver.search.problem import Floats, PartRule, Problem

Rows = npt.NDArray[np.int32]
"""Rows of picks, shape (fillings, most): the pours of each filling, -1 for none."""

Bools = npt.NDArray[np.bool_]

CHUNK = 1 << 16
"""Fillings that are summed in one sweep."""
SAME_TOTAL_ML = 1e-10
"""Totals of a part that differ by less are counted as one: finer than totals are compared."""


@dataclass(frozen=True)
class Fillings:
    """The Cartesian product of the fillings of some parts, the last part varying fastest.

    The product is numbered (mixed radix) and never stored: `parts` has the fillings of each part.
    """

    parts: tuple[Rows, ...]

    def __len__(self) -> int:
        return math.prod(map(len, self.parts))

    def picks(self, numbers: Ints) -> Ints:
        """The pours of fillings, by their numbers, shape (numbers, most)."""
        columns: list[Rows] = [np.zeros((len(numbers), 0), dtype=np.int32)]
        for part in reversed(self.parts):
            numbers, own = np.divmod(numbers, len(part))
            columns.append(part[own])
        return np.hstack(columns[::-1]).astype(np.int64)

    def sums(self, vectors: Floats, clock: Clock) -> Floats:
        """The sum of `vectors` over the pours of every filling, shape (fillings, columns).

        `vectors` has a row for each pick, and a last one of zeros.

        Raises:
            TimeUpError: there was no time for it.
        """
        columns = vectors.shape[1]
        total = np.zeros((1, columns))
        for part in self.parts:
            own = np.zeros((len(part), columns))
            for at in range(0, len(part), CHUNK):
                clock.check()
                for column in part[at : at + CHUNK].T:
                    own[at : at + CHUNK] += vectors[column]
            if len(total) == 1:
                own += total
                total = own
            else:
                total = (total[:, np.newaxis] + own).reshape(-1, columns)
        return total


@dataclass(frozen=True)
class Count:
    """How many fillings a part has, whatever its total, and the most that are held at once while
    they are made, one pour after the other."""

    filled: int
    most: int


def allowed_picks(problem: Problem, picks: Picks) -> list[Bools]:
    """Which picks there may be together, shape (picks,): one row for each amount of equal pours."""
    if not problem.equal:
        return [np.ones(len(picks.amount), dtype=bool)]
    free = ~np.isin(picks.part, sorted(problem.equal))
    level = problem.level_of(picks.amount)
    return [free | (level == each) for each in range(len(problem.levels))]


def count_of_fillings(picks: Picks, allowed: Bools, index: int, rule: PartRule) -> Count:
    """Count the fillings of a part with picks that are allowed, without making them."""
    mine = picks.candidate[allowed & (picks.part == index)]
    return _count(np.unique(mine, return_counts=True)[1].tolist(), rule)


def _count(amounts: Iterable[int], rule: PartRule) -> Count:
    """The same from how many amounts each candidate has."""
    ways = [1] + [0] * rule.count_high
    for each in amounts:
        for count in range(rule.count_high, 0, -1):
            ways[count] += ways[count - 1] * each
    return Count(sum(ways[rule.count_low :]), max(ways))


def fillings_of_part(
    picks: Picks, allowed: Bools, index: int, rule: PartRule, clock: Clock
) -> Rows:
    """Every filling of a part that keeps its count and its total.

    Raises:
        TimeUpError: there was no time for it.
    """
    mine = np.flatnonzero(allowed & (picks.part == index)).astype(np.int32)
    chosen = np.zeros((1, 0), dtype=np.int32)
    filled: list[Rows] = []
    for count in range(rule.count_high + 1):
        clock.check()
        if count >= rule.count_low:
            filled.append(_within_total(chosen, picks, rule))
        if count == rule.count_high:
            break
        last = picks.candidate[chosen[:, -1]] if count else np.full(1, -1)
        more, which = np.nonzero(picks.candidate[mine] > last[:, np.newaxis])
        chosen = np.hstack([chosen[more], mine[which][:, np.newaxis]])
    return np.vstack(filled)


def _within_total(chosen: Rows, picks: Picks, rule: PartRule) -> Rows:
    """The rows of `chosen`, shape (n, count), that keep the total of their part, padded with -1 to
    the most pours that the part may hold."""
    amount = np.zeros(len(chosen))
    for column in chosen.T:
        amount += picks.amount[column]
    count = chosen.shape[1]
    kept = chosen[total_holds(rule, amount, np.full(len(chosen), count))]
    padded = np.full((len(kept), rule.count_high), -1, dtype=np.int32)
    padded[:, :count] = kept
    return padded


def count_of_all_fillings(problem: Problem) -> int:
    """How many fillings all parts have together, each within its count and total.

    A filling that pours one bottle in two parts is among them, though it is no drink.
    """
    levels = range(len(problem.levels)) if problem.equal else (None,)
    every = range(len(problem.parts))
    return sum(math.prod(_within(problem, index, level) for index in every) for level in levels)


def _within(problem: Problem, index: int, level: int | None) -> int:
    """How many fillings of a part keep its count and total, each pour of the `level` by its number
    if they are equal."""
    rule = problem.parts[index]
    mine = [c.amounts for c in problem.candidates if c.part == index]
    if level is not None and index in problem.equal:
        at = (problem.level_of(each) == level for each in mine)
        mine = [tuple(compress(each, own)) for each, own in zip(mine, at, strict=True)]
    if rule.total_low is None and rule.total_high is None:
        return _count(map(len, mine), rule).filled
    totals = _totals(mine, rule.count_high)
    return sum(
        ways
        for count, by_total in enumerate(totals)
        for total, ways in by_total.items()
        if count >= rule.count_low
        and total_holds(rule, np.array(total * SAME_TOTAL_ML), np.array(count))
    )


def _totals(candidates: Sequence[Sequence[float]], most: int) -> list[dict[int, int]]:
    """For each count of pours, how many fillings have each total, in `SAME_TOTAL_ML`."""
    totals: list[dict[int, int]] = [{0: 1}] + [{} for _ in range(most)]
    for amounts in candidates:
        steps = [round(amount / SAME_TOTAL_ML) for amount in amounts]
        for count in range(most, 0, -1):
            into = totals[count]
            for total, ways in totals[count - 1].items():
                for step in steps:
                    into[total + step] = into.get(total + step, 0) + ways
    return totals
