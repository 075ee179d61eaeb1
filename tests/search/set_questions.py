"""Random questions of sets, from a seed, and every set of a small one."""

from __future__ import annotations

import itertools
import random

import numpy as np

from solver.search.sets.set_question import NEVER, FoundSet, SetPart, SetQuestion, SetWish


def question(seed: int, most_names: int = 7, most_parts: int = 4, spread: int = 5) -> SetQuestion:
    """Some ingredients in some parts; a small `spread` of worths makes many sets equally good."""
    rng = random.Random(seed)
    names = rng.randint(2, most_names)
    together = np.zeros((names, names), dtype=np.int64)
    for one, other in itertools.combinations(range(names), 2):
        worth = NEVER if rng.random() < 0.1 else rng.randint(-spread, spread)
        together[one, other] = together[other, one] = worth
    parts = tuple(_part(rng, names, spread) for _ in range(rng.randint(1, most_parts)))
    wishes = tuple(_wish(rng, parts) for _ in range(rng.choice((0, 0, 1, 2))))
    return SetQuestion(tuple(f"i{n:02}" for n in range(names)), parts, together, wishes)


def _part(rng: random.Random, names: int, spread: int) -> SetPart:
    members = tuple(sorted(rng.sample(range(names), rng.randint(0, names))))
    least = rng.choice((0, 0, 1, 1, 2))
    counts = tuple(rng.randint(-spread, spread) for _ in range(rng.randint(1, 3)))
    worths = tuple(rng.randint(-spread, spread) for _ in members)
    return SetPart(members, worths, least, counts)


def _wish(rng: random.Random, parts: tuple[SetPart, ...]) -> SetWish:
    everything = [(index, one) for index, part in enumerate(parts) for one in part.members]
    members = frozenset(at for at in everything if rng.random() < 0.4)
    return SetWish(members, rng.choice((0, 1, 1, 2)), rng.choice((None, None, 1, 2)))


def every_set(given: SetQuestion) -> list[FoundSet]:
    """Every set of a small question, in the order that `best_first` promises."""
    ways = [
        [
            held
            for n in range(part.least, part.most + 1)
            for held in itertools.combinations(part.members, n)
        ]
        for part in given.parts
    ]
    found = [
        FoundSet(worth, filled)
        for filled in itertools.product(*ways)
        if (worth := given.worth(filled)) is not None
    ]
    return sorted(
        found, key=lambda each: (-each.worth, len(each.poured), each.poured, each.ingredients)
    )
