"""The bar's limits on drinks of a night, by glass or technique."""

from __future__ import annotations

from collections.abc import Sequence

from solver.drinks.assess import assess
from solver.night.problem import Capacity
from solver.pantry.bar import Bar
from solver.pantry.spec import Spec


def capacities_of(specs: Sequence[Spec], bar: Bar) -> list[Capacity]:
    """The limits in the order of `most_a_night`, each with the positions of the specs that it is
    about.

    Raises:
        BadInput, BadInputs: a spec is wrong.
    """
    made = [assess(spec, bar) for spec in specs] if bar.most_a_night else []
    return [
        Capacity(
            frozenset(at for at, each in enumerate(made) if name in (each.glass, each.technique)),
            most,
        )
        for name, most in bar.most_a_night.items()
    ]


def capacity_said(at: int, bar: Bar) -> str:
    """A limit by its position: "at most 60 coupe a night"."""
    name, most = list(bar.most_a_night.items())[at]
    return f"at most {most} {name} a night"
