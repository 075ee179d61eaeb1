"""The strength of one syrup for several drinks: minimise the largest distance from their aims.

Strengths are those of a stated grid. At each of them every drink is optimised on its own pours from
the whole shelf; the claim is about the grid, and nothing between its points.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date

from solver.clock import Clock
from solver.drinks.answer import Answer
from solver.errors import BadInput, Unproven
from solver.pantry.bar import Bar
from solver.pantry.ingredient import Ingredient
from solver.pantry.profile import Profile
from solver.requests.request import IngredientWish, Request
from solver.search.milp.backend import Backend
from solver.tasks.design import design
from solver.tasks.prep.prepare import Prep, find_recipe, prepare
from solver.tasks.prep.strength_grid import Grid, GridPoint, of_strength, usual_grid

SECONDS = 60.0
"""How long the grid is searched at most, where nobody says: as with a design."""
_MOST_AROUND = 8
"""Strengths that may be tried after the coarse grid: the time is shared out with these in mind."""


@dataclass(frozen=True)
class Serving:
    """One profile at one strength: the distance of the closest drink from its aims, and that drink.

    `off_aim` is the optimum, which `answer` reaches to within what nobody notices; infinite if it
    is proven that the profile has no drink with the syrup. None if there was no time: `answer` is
    then the closest drink found.
    """

    profile: str
    off_aim: float | None
    answer: Answer | None

    @property
    def worst(self) -> float:
        """The distance of the closest drink known."""
        if self.off_aim is not None:
            return self.off_aim
        return math.inf if self.answer is None else self.answer.off_aim


@dataclass(frozen=True)
class SyrupStrength:
    """A syrup at some Brix as an ingredient, and its best drink for each profile."""

    point: GridPoint
    ingredient: Ingredient
    servings: tuple[Serving, ...]

    @property
    def brix(self) -> float:
        """Its Brix."""
        return self.point.brix

    @property
    def worst(self) -> float:
        """The largest distance from the aims, in noticeable differences."""
        return max(serving.worst for serving in self.servings)

    @property
    def proven(self) -> bool:
        """Whether every drink is proven optimal, or proven impossible."""
        return all(serving.off_aim is not None for serving in self.servings)

    @property
    def total(self) -> float:
        """The sum of distances, which decides between equal maxima."""
        return sum(serving.worst for serving in self.servings)


@dataclass(frozen=True)
class Served:
    """All strengths of the grid by Brix, the best of them, and the batch as it is `now`."""

    prep: Prep
    profiles: tuple[str, ...]
    grid: Grid
    strengths: tuple[SyrupStrength, ...]
    best: SyrupStrength
    now: SyrupStrength

    @property
    def proven(self) -> bool:
        """Whether every drink on the grid is proven."""
        return all(strength.proven for strength in (*self.strengths, self.now))


def serve(
    name: str,
    profiles: Sequence[str],
    bar: Bar,
    today: date,
    backend: Backend,
    grid: Grid | None = None,
    *,
    clock: Clock | None = None,
) -> Served:
    """The strength of a house syrup that serves several profiles best, on a grid.

    The time is shared among the drinks that are still to be found.

    Raises:
        BadInput, BadInputs: a profile or the recipe is not known, the recipe has alcohol or makes
            nothing sweet, or no strength on the grid serves all profiles.
        Unproven: there was no time to find a strength that serves all profiles.
    """
    clock = clock or Clock.of(SECONDS)
    targets = [bar.profile(profile) for profile in profiles]
    prep = prepare(find_recipe(name, bar), bar, today)
    _check(prep, targets)
    chosen = grid or usual_grid()
    strengths: list[SyrupStrength] = []

    def tried(points: Sequence[GridPoint], later: int) -> None:
        for at, point in enumerate(points):
            syrup = of_strength(prep, point, bar)
            if all(syrup != strength.ingredient for strength in strengths):
                share = clock.within(clock.left / (len(points) - at + later))
                servings = _servings(syrup, targets, bar, backend, share)
                strengths.append(SyrupStrength(point, syrup, servings))

    first = chosen.first()
    tried(first, later=_MOST_AROUND)
    tried(chosen.around(_best(strengths).point), later=1)
    best = _best(strengths)
    if best.worst == math.inf:
        if not all(strength.proven for strength in strengths):
            raise Unproven("the time was up before it was known what serves all of these drinks")
        what = "no strength on the grid serves all of these drinks"
        raise BadInput(what, remedy="Leave one out, or try it alone with --serve.")
    now = GridPoint(prep.figures.brix.value)
    syrup = of_strength(prep, now, bar)
    return Served(
        prep=prep,
        profiles=tuple(target.name for target in targets),
        grid=chosen,
        strengths=tuple(sorted(strengths, key=lambda s: (s.brix, s.ingredient.acid.value))),
        best=best,
        now=SyrupStrength(now, syrup, _servings(syrup, targets, bar, backend, clock)),
    )


def _best(strengths: Sequence[SyrupStrength]) -> SyrupStrength:
    return min(strengths, key=lambda s: (round(s.worst, 6), round(s.total, 6), s.brix))


def _check(prep: Prep, targets: Sequence[Profile]) -> None:
    if prep.figures.abv_pct.value > 0 or prep.figures.brix.value < 1:
        what = f"{prep.ingredient.name} has no strength in Brix to choose"
        raise BadInput(what, why="it has alcohol, or no sugar", remedy="Choose a syrup.")
    for target in targets:
        if not any(part.accepts(prep.ingredient) for part in target.parts):
            what = f"no part of {target.name} takes {prep.ingredient.name}"
            raise BadInput(what, remedy=f"See `equipour profiles {target.name}`.")


def _servings(
    syrup: Ingredient, targets: Sequence[Profile], bar: Bar, backend: Backend, clock: Clock
) -> tuple[Serving, ...]:
    """The closest drink of every profile with this syrup."""
    served = bar.with_bottle(syrup)
    request = Request(wanted=(IngredientWish(syrup.key),))
    servings: list[Serving] = []
    for at, target in enumerate(targets):
        if clock.left == 0:
            servings.append(Serving(target.name, None, None))
            continue
        share = clock.within(clock.left / (len(targets) - at))
        found = design(target, served, request, backend, clock=share)
        if found.interrupted:
            raise KeyboardInterrupt
        off = found.bound if found.goal_settled else None
        servings.append(Serving(target.name, off, found.answer))
    return tuple(servings)
