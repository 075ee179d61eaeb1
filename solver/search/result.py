"""What a search comes to. "No drink" and "no time" are different types, and must be told apart.

A result is matched, and a type checker sees every case that was forgotten:

    match search.run():
        case Optimal(drink=drink): ...
        case Impossible(): ...
        case Stopped(interrupted=interrupted): ...
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TypeVar

from solver.clock import TimeUpError
from solver.search.problem import Drink

_Found = TypeVar("_Found")


@dataclass(frozen=True)
class Optimal:
    """The best drink, proven: `value` is its exact goal, and no drink has a goal below `bound`.

    `compared` is the number of fillings that the proof covers, all that the shelf has; None where a
    MILP solver proved the bound.
    """

    drink: Drink
    value: float
    bound: float
    compared: int | None = None


@dataclass(frozen=True)
class Impossible:
    """The proof that there is no drink. `compared` as in `Optimal`."""

    compared: int | None = None


@dataclass(frozen=True)
class Stopped:
    """The search ended before its proof: nothing is known to be best, and nothing impossible.

    `incumbent` is the best drink seen, None for none, and `value` its exact goal (infinite without
    one); no drink has a goal below `bound`. `interrupted` says that the user stopped the search,
    and not the clock.
    """

    incumbent: Drink | None
    value: float
    bound: float
    interrupted: bool


@dataclass(frozen=True)
class Witness:
    """A drink that is good enough, and says nothing of others."""

    drink: Drink


Result = Optimal | Impossible | Stopped
"""What comes of minimising a goal."""

Answered = Witness | Impossible | Stopped
"""What comes of asking whether there is any drink."""


def decided(found: _Found | Impossible | Stopped) -> _Found | None:
    """What was found; None is the proof that there is nothing.

    Raises:
        TimeUpError, KeyboardInterrupt: the clock stopped the search, or the user did.
    """
    match found:
        case Impossible():
            return None
        case Stopped(interrupted=True):
            raise KeyboardInterrupt
        case Stopped():
            raise TimeUpError
    return found
