"""An answer: a drink in the bar's own terms."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np

from solver.drinks.floated import Floated, floated
from solver.drinks.guest_notice import ForGuest, for_guest
from solver.drinks.loudness import Loudness, loudness
from solver.drinks.uncertainty import Uncertainty, uncertainty
from solver.harmony.evidence import Evidence
from solver.measures import MEASURES
from solver.mixture.drink import Drink as Mixed
from solver.pantry.bar import Bar
from solver.pantry.ingredient import Ingredient
from solver.pantry.pour import Pour
from solver.pantry.profile import Profile
from solver.requests.allowed_pours import COUNTED
from solver.search.exact import measure, mixed, off_aim
from solver.search.problem import Aim, Candidate, Drink, Problem


@dataclass(frozen=True)
class Answer:
    """A poured drink, before ice and in the glass, and how far from the aims.

    `pours` are in the order of the profile's parts, the largest of a part first, then by key.
    `values` holds every measure by its name, those of character too that are asked about; None
    where it is not known. `guest` is what somebody who drinks it must be told; `aims` are what it
    was held to, `evidence` what speaks for it, where that was asked, `loud` the characters that
    are asked about.
    """

    pours: tuple[Pour, ...]
    drink: Mixed
    off_aim: float
    values: Mapping[str, float | None]
    uncertain: Uncertainty
    guest: ForGuest
    aims: tuple[Aim, ...] = ()
    garnish: str | None = None
    evidence: Evidence | None = None
    floated: Floated | None = None
    loud: tuple[Loudness, ...] = ()

    @property
    def ingredients(self) -> tuple[Ingredient, ...]:
        """What is poured."""
        return tuple(pour.ingredient for pour in self.pours)


def answer_of(
    problem: Problem, drink: Drink, profile: Profile, bar: Bar, garnish: str | None = None
) -> Answer:
    """The answer that a drink of a problem is; `bar.bottles` has its ingredients."""
    amounts = problem.amounts(drink)
    values = measure(problem, amounts, (*MEASURES.values(), *problem.characters))
    ordered = sorted(drink, key=lambda pick: _place(problem.candidates[pick[0]], pick[1]))
    pours = tuple(_poured(problem.candidates[c], at, profile, bar) for c, at in ordered)
    glass = mixed(problem, amounts)
    return Answer(
        pours=pours,
        drink=glass,
        off_aim=float(off_aim(problem, values)),
        values={n: None if np.isnan(value) else float(value) for n, value in values.items()},
        uncertain=uncertainty(problem, amounts, glass, profile.technique, bar),
        aims=problem.aims,
        guest=for_guest(pours, glass.finished, bar, profile.technique, garnish=garnish),
        garnish=garnish,
        floated=floated(problem, amounts, bar.bottles.find),
        loud=loudness(problem, drink, pours),
    )


def _place(candidate: Candidate, position: int) -> tuple[int, float, str]:
    return candidate.part, -candidate.amounts[position], candidate.ingredient


def _poured(candidate: Candidate, position: int, profile: Profile, bar: Bar) -> Pour:
    ingredient = bar.bottles.find(candidate.ingredient)
    part = profile.parts[candidate.part]
    amount = candidate.amounts[position]
    cost = None if candidate.cost is None else candidate.cost * amount
    tool = _tool(ingredient, part.tool, amount, bar)
    return Pour(ingredient, amount, tool, part=part.name, stage=part.stage, cost=cost)


def _tool(ingredient: Ingredient, usual: str | None, amount: float, bar: Bar) -> str:
    """What an amount is measured with: the usual tool, or the one that it was asked for in."""
    pours, used = bar.pour_set, usual or ingredient.tool
    for tool in (used, *COUNTED):
        if (tool == "weigh") == (ingredient.per == "g"):
            measured = pours.amounts(
                tool, ingredient.kind, amount, amount, bar.measures, piece_ml=ingredient.piece_ml
            )
            if measured:
                return tool
    return used
