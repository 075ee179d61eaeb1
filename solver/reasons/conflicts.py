"""Minimal conflicts: sets of demands that cannot hold together, while all but any one of them can.

One conflict by QuickXplain (Junker, AAAI 2004); all of them by exploring the sets of demands from
the largest down (MARCO: Liffiton, Previti, Malik & Marques-Silva, Constraints 21, 2016). Both ask
an oracle, which remembers what it was told: a set within a possible one is possible, a set around
an impossible one is not.
"""

from __future__ import annotations

from collections.abc import Callable, Hashable, Sequence
from dataclasses import dataclass
from typing import Generic, TypeVar

import numpy as np

Item = TypeVar("Item", bound=Hashable)

MOST_ITEMS = 18
"""Demands whose sets can all be kept in memory, one bit for each."""


class UndecidedError(Exception):
    """There was no time to tell whether some demands can hold together."""


class Oracle(Generic[Item]):
    """Tells whether demands can hold together.

    `ask` gives the demands that some drink keeps, at least those asked of it, or None where no
    drink keeps those; it may raise UndecidedError.
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


@dataclass(frozen=True)
class Conflicts(Generic[Item]):
    """Minimal conflicts, smallest first, and whether they are all there are.

    `undecided` says that there was no time to look for more.
    """

    found: tuple[frozenset[Item], ...]
    complete: bool
    undecided: bool = False


def one_conflict(
    items: Sequence[Item], oracle: Oracle[Item], background: frozenset[Item] = frozenset()
) -> frozenset[Item]:
    """A minimal part of `items` that cannot hold together with `background`.

    `items` and `background` cannot hold together; later items are blamed first. Empty where the
    background alone is impossible.
    """
    if not oracle.possible(background):
        return frozenset()
    return _explain(background, list(items), oracle, tried=True)


def _explain(
    background: frozenset[Item], items: list[Item], oracle: Oracle[Item], *, tried: bool
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


def all_conflicts(items: Sequence[Item], oracle: Oracle[Item], most: int = 12) -> Conflicts[Item]:
    """The minimal conflicts among `items`, at most so many.

    Of more than `MOST_ITEMS` only disjoint conflicts are found; that is then not complete.
    """
    found: list[frozenset[Item]] = []
    search = _disjoint if len(items) > MOST_ITEMS else _exploring
    try:
        complete = search(items, oracle, most, found)
    except UndecidedError:
        return Conflicts(_ordered(found), complete=False, undecided=True)
    return Conflicts(_ordered(found), complete)


def _exploring(
    items: Sequence[Item], oracle: Oracle[Item], most: int, found: list[frozenset[Item]]
) -> bool:
    """MARCO: add the conflicts to `found`; whether they are all there are."""
    sets = np.arange(1 << len(items), dtype=np.int64)
    size = np.zeros(len(sets), dtype=np.int8)
    for bit in range(len(items)):
        size += ((sets >> bit) & 1).astype(np.int8)
    open_ = np.ones(len(sets), dtype=bool)
    while open_.any():
        if len(found) == most:
            return False
        # The largest open set: most of them are possible at once or hold a conflict.
        seed = int(np.where(open_, size, -1).argmax())
        chosen = frozenset(item for bit, item in enumerate(items) if seed >> bit & 1)
        if oracle.possible(chosen):
            kept = _grown(chosen, items, oracle)
            mask = sum(1 << bit for bit, item in enumerate(items) if item in kept)
            open_ &= (sets & ~mask) != 0
        else:
            conflict = one_conflict([item for item in items if item in chosen], oracle)
            found.append(conflict)
            mask = sum(1 << bit for bit, item in enumerate(items) if item in conflict)
            open_ &= (sets & mask) != mask
    return True


def _grown(chosen: frozenset[Item], items: Sequence[Item], oracle: Oracle[Item]) -> frozenset[Item]:
    """A possible set around `chosen` to which nothing can be added."""
    kept = oracle.kept(chosen) or chosen
    for item in items:
        if item not in kept:
            kept = oracle.kept(kept | {item}) or kept
    return kept


def _disjoint(
    items: Sequence[Item], oracle: Oracle[Item], most: int, found: list[frozenset[Item]]
) -> bool:
    """Add conflicts to `found` that share no item; whether they are all there are, which nobody
    knows."""
    left = list(items)
    while len(found) < most and not oracle.possible(frozenset(left)):
        conflict = one_conflict(left, oracle)
        found.append(conflict)
        left = [item for item in left if item not in conflict]
    return False


def _ordered(found: list[frozenset[Item]]) -> tuple[frozenset[Item], ...]:
    return tuple(sorted(found, key=len))
