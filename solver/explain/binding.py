"""Binding demands: those without which there is something better."""

from __future__ import annotations

from collections.abc import Callable, Hashable, Sequence
from typing import TypeVar

Item = TypeVar("Item", bound=Hashable)


def binding(
    items: Sequence[Item],
    helps: Callable[[frozenset[Item]], bool],
    without: Callable[[Item], float | None],
) -> dict[Item, float]:
    """The demands that bind, each with the best value without it.

    `helps` tells whether something better exists without some demands; `without` gives the best
    value without one of them, None where it is no better. Dropping more never makes the best worse:
    where dropping all of them does not help none binds, and one question has settled it.
    """
    if not items or not helps(frozenset(items)):
        return {}
    values = {item: without(item) for item in items}
    return {item: value for item, value in values.items() if value is not None}
