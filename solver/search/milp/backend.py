"""The door for solvers of relaxations of a drink."""

from __future__ import annotations

import enum
from dataclasses import dataclass
from typing import TYPE_CHECKING, Protocol

from solver.clock import Watch

if TYPE_CHECKING:
    from solver.search.milp.relaxation import Relaxation


@enum.unique
class SolverStatus(enum.Enum):
    """What a solver claims about the outer model."""

    OPTIMAL = "optimal"
    """The decisions are optimal, the bound is their value."""
    FEASIBLE = "feasible"
    """The decisions hold, the bound holds, they may differ."""
    INFEASIBLE = "infeasible"
    UNKNOWN = "unknown"
    """Neither decisions nor a proof before the effort ran out."""


@dataclass(frozen=True)
class Outcome:
    """A solver's claim: decisions in the order of `Relaxation.picks`, bound in the goal's unit.

    `bound` is at most the goal of every drink of the outer model; minus infinity if unknown.
    """

    status: SolverStatus
    decisions: tuple[int, ...] | None
    bound: float
    interrupted: bool = False
    """The user stopped the solver."""


@dataclass(frozen=True)
class Effort:
    """How much a single solve may take.

    `work` is deterministic (the same on every machine), `seconds` is the user's patience. `proof`
    says that a refutation is expected rather than a better drink. `watch` is told that it goes on.
    """

    seconds: float = 60.0
    work: float = 1e9
    proof: bool = False
    watch: Watch | None = None


class Backend(Protocol):
    """A solver of relaxations."""

    @property
    def name(self) -> str:
        """Name and version, for the proof line."""
        ...

    def minimise(self, relaxation: Relaxation, effort: Effort) -> Outcome:
        """Minimise the relaxation's objective; may raise TimeUpError."""
        ...
