"""An answer: the drink of a search in the bar's own terms."""

from __future__ import annotations

from collections.abc import Callable, Collection, Mapping
from dataclasses import dataclass

import numpy as np

from solver.drinks.floated import Floated, floated
from solver.drinks.guest_notice import ForGuest, for_guest
from solver.drinks.loudness import Loudness, loudness
from solver.drinks.uncertainty import Uncertainty, uncertainty
from solver.harmony.evidence import Evidence
from solver.measures import MEASURES
from solver.mixture.drink import MixedDrink as Mixed
from solver.pantry.bar import Bar
from solver.pantry.ingredient import Ingredient
from solver.pantry.pour import Pour
from solver.pantry.profile import Profile
from solver.requests.allowed_pours import ALWAYS_AT_HAND
from solver.requests.leaves import Leaves, leaves_in
from solver.search.exact_evaluator import measures_of_drinks, mixed, off_aim
from solver.search.problem import Aim, Candidate, Drink, Problem


@dataclass(frozen=True)
class Answer:
    """A designed drink: its pours, its measures before ice and in the glass, its aims.

    `pours` are ordered by part of the profile, then by amount, largest first, then by key. `values`
    maps the name of each measure, asked-about characters included, to its value; None if unknown.
    `guest` is what a guest must be told, `aims` what the drink was designed to. `evidence` says why
    it is in keeping, if that was asked; `loud` are the characters that were asked about.
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
    leaves: tuple[Leaves, ...] = ()

    @property
    def ingredients(self) -> tuple[Ingredient, ...]:
        """The ingredients of the pours, in their order."""
        return tuple(pour.ingredient for pour in self.pours)


GarnishOn = Callable[[Collection[Ingredient]], str | None]
"""What goes on a drink of some ingredients."""


def answer_of(
    problem: Problem, drink: Drink, profile: Profile, bar: Bar, garnish_on: GarnishOn
) -> Answer:
    """The drink of a problem as an answer; `bar.bottles` has to contain its ingredients."""
    amounts = problem.amounts(drink)
    values = measures_of_drinks(problem, amounts, (*MEASURES.values(), *problem.characters))
    ordered = sorted(drink, key=lambda pick: _place(problem.candidates[pick[0]], pick[1]))
    pours = tuple(_poured(problem.candidates[c], at, profile, bar) for c, at in ordered)
    glass = mixed(problem, amounts)
    garnish = garnish_on([pour.ingredient for pour in pours])
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
        leaves=leaves_in(garnish, bar),
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
    """The tool that measures an amount: the ingredient's usual one, or the one asked for."""
    pours, used = bar.pour_set, usual or ingredient.tool
    for tool in (used, *ALWAYS_AT_HAND):
        if (tool == "weigh") == (ingredient.per == "g"):
            measured = pours.amounts(
                tool, ingredient.kind, amount, amount, bar.measures, piece_ml=ingredient.piece_ml
            )
            if measured:
                return tool
    return used
