"""Integer rows that can only be too loose.

The outer model is a list of integer variables and of rows `Σ coefficient · variable <= upper`.
Whoever builds it thinks in real numbers; this module does the rounding, always outward, in the one
place where it can be tested: whatever satisfies the real inequality satisfies the integer row.

A real quantity r is held as the integer floor(r · scale). The variable is then short of r · scale
by less than one, so every negative coefficient gives the row one unit of slack; coefficients are
rounded down, which is outward because no variable is negative.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass, field

from solver.clock import Clock

Terms = dict[int, float]
"""A linear expression: real coefficient of each variable, by its position, in real units."""

Lift = Callable[[Sequence[float]], float]
"""The real value of a variable, given the real values of the variables made before it."""

ROW_MAGNITUDE = 2.0**40
"""Largest term of a scaled row. Rounding a coefficient then moves a row by less than 1e-11 of it
per unit of a variable, and sums stay far below 2**63."""


@dataclass(frozen=True)
class Variable:
    """An integer variable from `low` to `high` that holds a real quantity times `scale`.

    A scale of 0 marks a variable that is itself an integer (a yes or no).
    """

    name: str
    low: int
    high: int
    scale: float = 0.0


@dataclass(frozen=True)
class Row:
    """`Σ coefficients · variables <= upper`, in integers."""

    name: str
    variables: tuple[int, ...]
    coefficients: tuple[int, ...]
    upper: int


@dataclass
class Rows:
    """A growing outer model: variables, rows, and how each variable follows from a drink.

    The first variables are decisions. Every later one has a `lift`, its real value once the
    decisions are known: a test uses it to show that no drink is cut off. A row of a large model
    takes milliseconds: each looks at the `clock`, and raises TimeUpError where it is up.
    """

    clock: Clock | None = None
    variables: list[Variable] = field(default_factory=list)
    rows: list[Row] = field(default_factory=list)
    lifts: list[Lift] = field(default_factory=list)

    def decision(self, name: str) -> int:
        """A new yes or no that is decided, not derived; returns its position."""
        self.variables.append(Variable(name, 0, 1))
        return len(self.variables) - 1

    def yes_or_no(self, name: str, lift: Lift) -> int:
        """A new variable that is 0 or 1; returns its position."""
        self.variables.append(Variable(name, 0, 1))
        self.lifts.append(lift)
        return len(self.variables) - 1

    def real(self, name: str, high: float, scale: float, lift: Lift) -> int:
        """A new variable for a real quantity from 0 to `high`; returns its position."""
        self.variables.append(Variable(name, 0, math.ceil(high * scale) + 1, scale))
        self.lifts.append(lift)
        return len(self.variables) - 1

    def lifted(self, decisions: Sequence[float]) -> list[int]:
        """The integer value of every variable, given those of the decisions."""
        real = list(decisions)
        for lift in self.lifts:
            real.append(lift(real))
        return [
            math.floor(value * variable.scale) if variable.scale else round(value)
            for value, variable in zip(real, self.variables, strict=True)
        ]

    def at_most(self, name: str, terms: Terms, bound: float) -> None:
        """Add `Σ terms <= bound`, rounded outward."""
        if self.clock is not None:
            self.clock.check()
        slack = 0.0
        largest = abs(bound)
        scaled: dict[int, float] = {}
        for position, coefficient in terms.items():
            if coefficient == 0.0:
                continue
            variable = self.variables[position]
            each = coefficient / variable.scale if variable.scale else coefficient
            scaled[position] = each
            largest = max(largest, abs(each) * variable.high)
            if variable.scale and each < 0:
                slack -= each
        if not scaled and bound >= 0:
            return
        unit = 2.0 ** math.floor(math.log2(ROW_MAGNITUDE / largest)) if largest else 1.0
        self.rows.append(
            Row(
                name,
                tuple(scaled),
                tuple(math.floor(each * unit) for each in scaled.values()),
                math.floor((bound + slack) * unit) + 1,
            )
        )

    def at_least(self, name: str, terms: Terms, bound: float) -> None:
        """Add `Σ terms >= bound`, rounded outward."""
        self.at_most(name, scale(terms, -1.0), -bound)

    def equal(self, name: str, terms: Terms, bound: float) -> None:
        """Add `Σ terms == bound` as two rows, each rounded outward."""
        self.at_most(name, terms, bound)
        self.at_least(name, terms, bound)


def scale(terms: Terms, factor: float) -> Terms:
    """The expression times `factor`."""
    return {position: coefficient * factor for position, coefficient in terms.items()}


def add(*expressions: Terms) -> Terms:
    """The sum of expressions."""
    total: Terms = {}
    for terms in expressions:
        for position, coefficient in terms.items():
            total[position] = total.get(position, 0.0) + coefficient
    return total


def minus(left: Terms, right: Terms) -> Terms:
    """The difference of two expressions."""
    return add(left, scale(right, -1.0))


def value(terms: Terms, real: Sequence[float]) -> float:
    """The expression at the given real values."""
    return sum(coefficient * real[position] for position, coefficient in terms.items())
