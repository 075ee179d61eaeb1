"""What of a bar's stock is in keeping with a request: sets for the search, reasons for people."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence

from solver.harmony.counted import load_counts
from solver.harmony.evidence import Evidence
from solver.harmony.feature import featuring
from solver.harmony.harmony import BottleWish, Harmony
from solver.search.best_sets import best_first
from solver.search.clock import Clock
from solver.search.in_keeping import Groups
from solver.search.problem import Drink, Problem
from solver.tasks.demands import Asked


class InKeeping:
    """Sets of ingredients that a problem of a request can pour, in the order of their worth."""

    def __init__(self, asked: Asked, problem: Problem) -> None:
        self.asked = asked
        self.problem = problem
        names = {candidate.ingredient for candidate in problem.candidates}
        stock = [item for item in asked.bar.bottles if item.key in names]
        self.harmony = Harmony(
            asked.profile, asked.bar.bottles, stock, load_counts(),
            taste=asked.taste, dial=asked.request.dial,
        )  # fmt: skip
        self.places: dict[tuple[int, str], int] = {
            (each.part, each.ingredient): index for index, each in enumerate(problem.candidates)
        }

    def sets(self, clock: Clock, also: Sequence[BottleWish] = ()) -> Callable[[], Iterator[Groups]]:
        """The sets, the best first, each time they are asked for anew; `also` narrows them.

        Every ingredient of a set stands for what is in stock of its flavour.
        """
        wishes = [*self._wishes(), *also]
        question = self.harmony.question(wishes)

        def listed() -> Iterator[Groups]:
            for found in best_first(question, clock):
                groups = self._groups(self.harmony.bottles(found.filled))
                if all(group for part in groups for group in part):
                    yield groups

        return listed

    def _groups(self, bottles: Iterable[Iterable[Iterable[str]]]) -> Groups:
        return tuple(
            tuple(
                tuple(self.places[part, key] for key in keys if (part, key) in self.places)
                for keys in flavours
            )
            for part, flavours in enumerate(bottles)
        )

    def _wishes(self) -> list[BottleWish]:
        """What the problem's choices ask, and room for what is to be shown."""
        found = [
            BottleWish(
                frozenset(self.problem.candidates[member].ingredient for member in choice.members),
                choice.low,
                choice.high,
            )
            for choice in self.problem.choices
        ]
        for key in self.asked.request.feature:
            found += featuring(self.harmony, key)
        return found

    def evidence(self, problem: Problem, drink: Drink) -> Evidence | None:
        """Why a drink is as much in keeping as it is; None for one that is none of the sets."""
        parts = [part.name for part in self.asked.profile.parts]
        poured = ((problem.candidates[i].part, problem.candidates[i].ingredient) for i, _ in drink)
        filled = self.harmony.filled((parts[part], key) for part, key in poured)
        return None if filled is None else self.harmony.evidence(filled)


def unlike(asked: Asked, pours: Iterable[tuple[str, str]]) -> tuple[BottleWish, ...]:
    """A drink of another base family and without the modifiers of one, given as (part, key)."""
    bottles = asked.bar.bottles
    found: list[BottleWish] = []
    for part, key in pours:
        item = bottles.find(key)
        if part == "base":
            family = frozenset(each.key for each in bottles if each.is_kind(item.kind))
            found.append(BottleWish(family, high=0))
        elif part == "modifier":
            found.append(BottleWish(frozenset({key}), high=0))
    return tuple(found)
