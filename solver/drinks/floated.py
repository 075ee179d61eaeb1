"""A drink with something laid on it is two: what is under it, and what it is when it is mixed."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np

from solver.drinks.method import is_floated
from solver.mixture.blend import Finished
from solver.pantry.ingredient import Ingredient
from solver.search.exact import mixed
from solver.search.problem import Floats, Problem


@dataclass(frozen=True)
class Floated:
    """What lies on a drink, and what is under it in the glass, with the water of its ice."""

    items: tuple[Ingredient, ...]
    under: Finished


def floated(problem: Problem, amounts: Floats, find: Callable[[str], Ingredient]) -> Floated | None:
    """What of a drink is laid on it; None where nothing is.

    `amounts` are units of each candidate; `find` gives the ingredient of a key.
    """
    laid = {
        at: find(candidate.ingredient)
        for at, candidate in enumerate(problem.candidates)
        if candidate.top and amounts[at] > 0
    }
    laid = {at: item for at, item in laid.items() if is_floated(item)}
    if not laid:
        return None
    under = np.array(amounts)
    under[list(laid)] = 0.0
    return Floated(tuple(laid.values()), mixed(problem, under).finished)
