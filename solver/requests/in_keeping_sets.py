"""The ingredient sets of a request, ranked by what is in keeping, and the evidence for a drink."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from functools import cached_property
from typing import TYPE_CHECKING

from solver.clock import Clock
from solver.harmony.counted import load_standing
from solver.harmony.evidence import Evidence
from solver.harmony.feature import featuring
from solver.harmony.harmony import BottleWish, Harmony, worth_of
from solver.harmony.rank_among_published import best_worth
from solver.requests.asked_drink import AskedDrink
from solver.search.nogoods import CandidateSet
from solver.search.problem import Drink, Problem
from solver.search.sets.best_first import best_first
from solver.search.sets.set_question import IngredientSet, SetQuestion

if TYPE_CHECKING:
    from solver.search.milp.most_in_keeping_rows import Bottles


class InKeepingSets:
    """Sets of ingredients that the candidates of a request can pour, in the order of their worth.

    Any problem with the same candidates, in the same order, can be asked about.
    """

    def __init__(self, asked: AskedDrink, problem: Problem) -> None:
        self.asked = asked
        names = {candidate.ingredient for candidate in problem.candidates}
        stock = [item for item in asked.bar.bottles if item.key in names]
        self.harmony = Harmony(asked.pourables.known, stock, dial=asked.request.dial)
        self.candidate_at: dict[tuple[int, str], int] = {
            (each.part, each.ingredient): index for index, each in enumerate(problem.candidates)
        }

    def knows(self, problem: Problem) -> bool:
        """Whether the parts have the counts of the profile; for others there are no sets."""
        counts = [(rule.count_low, rule.count_high) for rule in problem.parts]
        return counts == [part.count for part in self.asked.profile.parts]

    def question(self, problem: Problem, *, shown: bool = True) -> SetQuestion:
        """The set question for a problem with these candidates.

        With `shown`, sets have room for what is featured: little beside it.
        """
        return self.harmony.question(self._wishes(problem, shown=shown))

    def sets(
        self, problem: Problem, clock: Clock, most: int | None = None, *, shown: bool = True
    ) -> SetsOf:
        """The sets of a problem with these candidates; of at most so many ingredients."""
        return SetsOf(self, problem, clock, most, shown)

    def candidate_set(self, ingredients: IngredientSet) -> CandidateSet | None:
        """A set as candidates: each ingredient stands for what is in stock of its flavour.

        None where nothing is in stock of one of them.
        """
        candidates = self._candidates(self.harmony.bottles(ingredients))
        return candidates if all(one_of for part in candidates for one_of in part) else None

    @property
    def bottles(self) -> Bottles:
        """The candidates that each ingredient of a set stands for, by part and number."""
        return {
            (part, self.harmony.number[name]): tuple(
                self.candidate_at[part, key] for key in keys if (part, key) in self.candidate_at
            )
            for part, usual in enumerate(self.harmony.parts)
            for name, keys in usual.bottles.items()
        }

    def set_of(self, problem: Problem, drink: Iterable[tuple[int, int]]) -> IngredientSet | None:
        """The set of a drink of `problem`; None where the question has no such set."""
        parts = [part.name for part in self.asked.profile.parts]
        poured = ((problem.candidates[i].part, problem.candidates[i].ingredient) for i, _ in drink)
        return self.harmony.ingredient_set((parts[part], key) for part, key in poured)

    def _candidates(self, bottles: Iterable[Iterable[Iterable[str]]]) -> CandidateSet:
        return tuple(
            tuple(
                tuple(
                    self.candidate_at[part, key] for key in keys if (part, key) in self.candidate_at
                )
                for keys in flavours
            )
            for part, flavours in enumerate(bottles)
        )

    def _wishes(self, problem: Problem, *, shown: bool) -> list[BottleWish]:
        """What a problem's choices ask, and room for what is to be shown."""
        found = [
            BottleWish(
                frozenset(problem.candidates[member].ingredient for member in choice.members),
                choice.low,
                choice.high,
            )
            for choice in problem.choices
        ]
        for key in self.asked.request.feature if shown else ():
            found += featuring(self.harmony, key)
        return found

    @cached_property
    def _best_worth(self) -> float:
        """What the best set of the profile is worth, of everything known."""
        return best_worth(self.asked.pourables.known, self.asked.request.dial)

    def come_up_to(self, worth: float) -> float:
        """The share of published drinks that are as much in keeping as a set of some worth, each
        judged by the best of its own kind."""
        return load_standing(self.asked.request.dial).come_up_to(self._best_worth - worth)

    def floor(self, share: float) -> float:
        """What a set is worth at least that is as much in keeping as so large a share of published
        drinks are."""
        return self._best_worth - load_standing(self.asked.request.dial).reached_by(share)

    def evidence(self, problem: Problem, drink: Drink) -> Evidence | None:
        """The evidence for the worth of a drink; None where it has no set."""
        ingredients = self.set_of(problem, drink) if self.knows(problem) else None
        return None if ingredients is None else self.harmony.evidence(ingredients)


@dataclass(frozen=True)
class SetsOf:
    """The sets of one problem, of at most so many ingredients."""

    in_keeping: InKeepingSets
    problem: Problem
    clock: Clock
    most: int | None
    shown: bool = True

    @cached_property
    def _question(self) -> SetQuestion:
        return self.in_keeping.question(self.problem, shown=self.shown)

    def loss(self, drink: Drink) -> float | None:
        """The negated worth of the set of a drink; None where it has no set."""
        ingredients = self.in_keeping.set_of(self.problem, drink)
        worth = None if ingredients is None else self._question.worth(ingredients)
        return None if worth is None else -worth_of(worth)

    def __call__(self) -> Iterator[CandidateSet]:
        """All of them, the best first."""
        for found in best_first(self._question, self.clock):
            if self._few_enough(found.ingredients):
                candidates = self.in_keeping.candidate_set(found.ingredients)
                if candidates is not None:
                    yield candidates

    def best_of(self, poured: Iterable[frozenset[int]]) -> CandidateSet | None:
        """The best set of some drinks, given by their candidates; None where they have no set."""
        question = self._question
        ranked: dict[IngredientSet, tuple[object, ...]] = {}
        for drink in poured:
            ingredients = self.in_keeping.set_of(
                self.problem, [(index, 0) for index in sorted(drink)]
            )
            if ingredients is None or ingredients in ranked or not self._few_enough(ingredients):
                continue
            worth = question.worth(ingredients)
            if worth is not None:
                held = [one for each in ingredients for one in each]
                ranked[ingredients] = (-worth, len(held), tuple(held), ingredients)
        best = min(ranked, key=lambda ingredients: ranked[ingredients], default=None)
        return None if best is None else self.in_keeping.candidate_set(best)

    def _few_enough(self, ingredients: IngredientSet) -> bool:
        return self.most is None or sum(map(len, ingredients)) <= self.most


def unlike(asked: AskedDrink, pours: Iterable[tuple[str, str]]) -> tuple[BottleWish, ...]:
    """A drink of another base family and without the modifiers of one, given as (part, key); where
    it has neither, one with a base if there can be one, else not of the same ingredients."""
    poured, bottles = list(pours), asked.bar.bottles
    found: list[BottleWish] = []
    for part, key in poured:
        item = bottles.find(key)
        if part == "base":
            family = frozenset(each.key for each in bottles if each.is_kind(item.kind))
            found.append(BottleWish(family, high=0))
        elif part == "modifier":
            found.append(BottleWish(frozenset({key}), high=0))
    if not found and any(part.name == "base" for part in asked.profile.parts):
        takes = asked.profile.part("base").accepts
        return (BottleWish(frozenset(each.key for each in bottles if takes(each)), low=1),)
    every = frozenset(key for _, key in poured)
    return tuple(found) or (BottleWish(every, high=len(every) - 1),)
