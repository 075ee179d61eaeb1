"""A drink with floated pours: the mixed drink, and the layer beneath the float."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np

from solver.drinks.method import is_floated
from solver.mixture.blend import Finished
from solver.pantry.ingredient import Ingredient
from solver.search.exact_evaluator import mixed
from solver.search.problem import Floats, Problem


@dataclass(frozen=True)
class Floated:
    """The pours that lie on a drink, and the drink beneath them, melt included."""

    items: tuple[Ingredient, ...]
    under: Finished


def floated(problem: Problem, amounts: Floats, find: Callable[[str], Ingredient]) -> Floated | None:
    """The floated pours of a drink and what is beneath them; None if nothing is floated.

    `amounts` are units of each candidate; `find` maps a key to its ingredient.
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
