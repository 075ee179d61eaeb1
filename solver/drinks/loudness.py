"""How loudly a character speaks in a drink, and by which of its pours."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from solver.measures import Measure
from solver.pantry.pour import Pour
from solver.search.problem import Drink, Problem


@dataclass(frozen=True)
class Carrier:
    """A pour that carries a character, and how much of its ingredient is usual, in its unit."""

    pour: Pour
    usual: float


@dataclass(frozen=True)
class Loudness:
    """A character in usual pours, and what carries it, the loudest first."""

    character: Measure
    usual_pours: float
    carriers: tuple[Carrier, ...]


def loudness(problem: Problem, drink: Drink, pours: Sequence[Pour]) -> tuple[Loudness, ...]:
    """The characters that a problem asks about, in a drink of it; `pours` are the drink's."""
    shares = {problem.candidates[at].ingredient: problem.candidates[at] for at, _ in drink}
    found: list[Loudness] = []
    for measure in problem.characters:
        carrying = [(pour, shares[pour.ingredient.key].carried(measure)) for pour in pours]
        loud = sorted((-share * pour.amount, at) for at, (pour, share) in enumerate(carrying))
        carriers = tuple(
            Carrier(carrying[at][0], 1.0 / carrying[at][1]) for much, at in loud if much < 0
        )
        found.append(Loudness(measure, -sum(much for much, _ in loud), carriers))
    return tuple(found)
