"""How loud a character is in a drink, and which pours carry it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from solver.measures import Measure
from solver.pantry.pour import Pour
from solver.search.problem import Drink, Problem


@dataclass(frozen=True)
class Carrier:
    """A pour that carries a character, and the usual pour of its ingredient, in its unit."""

    pour: Pour
    usual: float


@dataclass(frozen=True)
class Loudness:
    """The loudness of a character in usual pours, and its carriers, the loudest first."""

    character: Measure
    usual_pours: float
    carriers: tuple[Carrier, ...]


def loudness(problem: Problem, drink: Drink, pours: Sequence[Pour]) -> tuple[Loudness, ...]:
    """The loudness of each character that a problem asks about, in a drink of it with `pours`."""
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
