"""Minimal conflicts: sets of demands that cannot hold together, while all but any one of them can.
Minimal corrections: sets of demands without which the rest can hold together, while without all but
any one of them it cannot. Each correction meets every conflict, and each conflict every correction.

One conflict by QuickXplain (Junker, AAAI 2004); all of them, and all corrections, by exploring the
sets of demands from the largest down (MARCO: Liffiton, Previti, Malik & Marques-Silva, Constraints
21, 2016): a possible set that nothing can be added to leaves a minimal correction set out. The next
set to look at leaves out a hitting set of the known conflicts (Reiter, Artificial Intelligence 32,
1987). All ask an oracle, which remembers what it was told: a set within a possible one is possible,
a set around an impossible one is not.
"""

from __future__ import annotations

from collections import deque
from collections.abc import Callable, Hashable, Sequence
from dataclasses import dataclass, field
from typing import Generic, TypeVar

from solver.clock import TimeUpError

Item = TypeVar("Item", bound=Hashable)

MOST_TRIED = 20_000
"""Hitting sets that are looked through for one more set to explore."""


class _TooManyError(Exception):
    """More than `MOST_TRIED` hitting sets were tried without finding an unexplored one."""


class ConflictOracle(Generic[Item]):
    """Tells whether demands can hold together.

    `ask` gives the demands that some drink keeps, at least those asked of it, or None where no
    drink keeps those; it may raise TimeUpError.
    """

    def __init__(self, ask: Callable[[frozenset[Item]], frozenset[Item] | None]) -> None:
        self.ask = ask
        self.asked = 0
        self._possible: list[frozenset[Item]] = []
        self._impossible: list[frozenset[Item]] = []

    def kept(self, items: frozenset[Item]) -> frozenset[Item] | None:
        """Demands that some drink keeps, `items` among them; None where that is impossible."""
        for known in self._possible:
            if items <= known:
                return known
        if any(core <= items for core in self._impossible):
            return None
        self.asked += 1
        kept = self.ask(items)
        if kept is None:
            self._impossible.append(items)
            return None
        self._possible.append(kept | items)
        return kept | items

    def possible(self, items: frozenset[Item]) -> bool:
        """Whether some drink keeps all of them."""
        return self.kept(items) is not None

    def learn(self, conflict: frozenset[Item]) -> None:
        """Remember that a set is impossible which was not asked about by itself."""
        self._impossible.append(conflict)


@dataclass(frozen=True)
class Conflicts(Generic[Item]):
    """Minimal conflicts and minimal corrections, smallest first.

    `complete` says that they are all there are; `undecided` that there was no time for more.
    """

    found: tuple[frozenset[Item], ...]
    corrections: tuple[frozenset[Item], ...]
    complete: bool
    undecided: bool = False


def one_conflict(
    items: Sequence[Item], oracle: ConflictOracle[Item], background: frozenset[Item] = frozenset()
) -> frozenset[Item]:
    """A minimal part of `items` that cannot hold together with `background`.

    `items` and `background` cannot hold together; later items are blamed first. Empty where the
    background alone is impossible.
    """
    if not oracle.possible(background):
        return frozenset()
    return _explain(background, list(items), oracle, tried=True)


def _explain(
    background: frozenset[Item], items: list[Item], oracle: ConflictOracle[Item], *, tried: bool
) -> frozenset[Item]:
    """QuickXplain; `tried` says that the background is known to be possible."""
    if not tried and not oracle.possible(background):
        return frozenset()
    if len(items) == 1:
        return frozenset(items)
    half = len(items) // 2
    first, second = items[:half], items[half:]
    later = _explain(background | set(first), second, oracle, tried=False)
    sooner = _explain(background | later, first, oracle, tried=not later)
    return sooner | later


def all_conflicts(
    items: Sequence[Item], oracle: ConflictOracle[Item], most: int = 12, most_corrections: int = 24
) -> Conflicts[Item]:
    """The minimal conflicts among `items`, and the minimal corrections; at most so many of each.

    Where the time is up, what was found by then, with `undecided`.
    """
    exploring = _Exploring(items, oracle)
    try:
        complete = exploring.run(most, most_corrections)
        if exploring.conflicts and not exploring.corrections:
            exploring.correct(frozenset())
    except TimeUpError:
        return exploring.so_far(complete=False, undecided=True)
    return exploring.so_far(complete=complete)


@dataclass
class _Exploring(Generic[Item]):
    """The state of MARCO: conflicts and corrections found so far."""

    items: Sequence[Item]
    oracle: ConflictOracle[Item]
    conflicts: list[frozenset[Item]] = field(default_factory=list)
    corrections: list[frozenset[Item]] = field(default_factory=list)

    def run(self, most: int, most_corrections: int) -> bool:
        """Explore until every set is known to be possible or not; False where a limit ended it."""
        while True:
            try:
                left_out = self._unexplored()
            except _TooManyError:
                return False
            if left_out is None:
                return True
            if len(self.conflicts) == most or len(self.corrections) == most_corrections:
                return False
            chosen = [item for item in self.items if item not in left_out]
            if self.oracle.possible(frozenset(chosen)):
                self.correct(frozenset(chosen))
            else:
                self.conflicts.append(one_conflict(chosen, self.oracle))
                self.oracle.learn(self.conflicts[-1])

    def correct(self, possible: frozenset[Item]) -> None:
        """Grow a possible set to a maximal one; its complement is a minimal correction."""
        kept = self.oracle.kept(possible)
        if kept is None:
            return
        for item in self.items:
            if item not in kept:
                kept = self.oracle.kept(kept | {item}) or kept
        self.corrections.append(frozenset(item for item in self.items if item not in kept))

    def so_far(self, *, complete: bool, undecided: bool = False) -> Conflicts[Item]:
        """What is known."""
        return Conflicts(
            tuple(sorted(self.conflicts, key=len)),
            tuple(sorted(self.corrections, key=len)),
            complete,
            undecided,
        )

    def _unexplored(self) -> frozenset[Item] | None:
        """A smallest hitting set of the conflicts that contains no known correction.

        None where there is none left: all sets are explored.
        """
        queue = deque([frozenset[Item]()])
        seen = set(queue)
        while queue:
            if len(seen) > MOST_TRIED:
                raise _TooManyError
            left_out = queue.popleft()
            if any(known <= left_out for known in self.corrections):
                continue
            conflict = next((each for each in self.conflicts if not each & left_out), None)
            if conflict is None:
                return left_out
            larger = (left_out | {item} for item in self.items if item in conflict)
            fresh = [each for each in larger if each not in seen]
            seen.update(fresh)
            queue.extend(fresh)
        return None
