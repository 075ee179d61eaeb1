"""Limits that keep a batch from its aims: those without which it would come closer."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from typing import Final

import numpy as np

from solver.clock import Clock, TimeUpError
from solver.kitchen.aiming import TOLERANCES, Aiming, BatchAim, reach, value_of
from solver.kitchen.batch import mass_g

MOST_ADDED: Final = 20.0
"""Times the batch that anything is added at most, where the shelf does not say what there is."""


@dataclass(frozen=True)
class BindingLimit:
    """A limit in words, and the values that the aims would reach without it."""

    says: str
    values: tuple[float, ...]


def are_met(aims: Sequence[BatchAim], values: Sequence[float]) -> bool:
    """Whether every aim is met to its tolerance."""
    return all(
        abs(value - aim.value) <= TOLERANCES[aim.measure] + 1e-9
        for aim, value in zip(aims, values, strict=True)
    )


@dataclass(frozen=True)
class BindingLimits:
    """The binding limits of a batch; `undecided` is true if there was no time for all."""

    limits: tuple[BindingLimit, ...] = ()
    undecided: bool = False


def binding_limits(
    aiming: Aiming, values: tuple[float, ...], stored: str, clock: Clock
) -> BindingLimits:
    """The limits without which the batch would come closer to its aims. Empty if none binds."""
    found: list[BindingLimit] = []
    try:
        for looser, says in _loosened(aiming, stored):
            found += _nearer(looser, says, values, clock)
    except TimeUpError:
        return BindingLimits(tuple(found), undecided=True)
    return BindingLimits(tuple(found))


def _loosened(aiming: Aiming, stored: str) -> Iterator[tuple[Aiming, str]]:
    """Yield the problem without each of its limits, and that limit in words."""
    endless = MOST_ADDED * float(mass_g(aiming.start))
    if aiming.most_sugar is not None:
        most = f"{100 * aiming.most_sugar:.1f} g in 100 g of sugar and water"
        says = f"at {stored} sugar stays dissolved only up to {most}"
        yield replace(aiming, most_sugar=None), says
    if aiming.least_delle is not None:
        says = f"it must have {aiming.least_delle:.0f} Delle units to keep"
        yield replace(aiming, least_delle=None), says
    for index, adder in enumerate(aiming.adders):
        if adder.most_g < endless:
            more = replace(adder, most_g=endless)
            adders = (*aiming.adders[:index], more, *aiming.adders[index + 1 :])
            says = f"there are only {adder.most_g:.0f} g of {adder.name} on the shelf"
            yield replace(aiming, adders=adders), says


def _nearer(
    looser: Aiming, says: str, values: tuple[float, ...], clock: Clock
) -> list[BindingLimit]:
    steps = reach(looser, clock)
    if steps is None:
        return []
    batch = looser.batch(steps)
    without = tuple(value_of(batch, aim.measure) for aim in looser.aims)
    return (
        [BindingLimit(says, without)]
        if _misses(looser.aims, without) < _misses(looser.aims, values)
        else []
    )


def _misses(aims: Sequence[BatchAim], values: Sequence[float]) -> float:
    pairs = zip(aims, values, strict=True)
    total = sum(abs(value - aim.value) / TOLERANCES[aim.measure] for aim, value in pairs)
    return float(np.round(total, 3))
