"""Targets of a profile: bands, limits and tolerances as written, and as numbers."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Annotated

from pydantic import Field

from solver.errors import BadInput
from solver.files.checked import Model, one_of
from solver.measures import MEASURES
from solver.pantry.text_types import Span
from solver.printable import short
from solver.quantities import Measures, parse_span

MeasureName = Annotated[str, one_of(MEASURES, "a measure", "measures")]


class Target(Model):
    """What a file says about one measure, as written."""

    measure: MeasureName = Field(description="What is measured of the finished drink.")
    text: Span = Field(description="The range, or the one value, that it is to have.")

    def band(self, measures: Measures, currency: str = "") -> TargetBand:
        """The band of an aim, in the unit of its measure: a range, or one value to come near to.

        Raises:
            BadInput: it can't be read, or one end of it is open.
        """
        span = parse_span(self.text, self._quantity, measures, currency=currency)
        if span.aim is not None:
            return TargetBand(self.measure, span.aim, span.aim)
        if span.low is None or span.high is None:
            what = f"'{short(self.text)}' has one end only"
            raise BadInput(what, remedy="Give both, like 15..19%; a bound belongs in [limits].")
        return TargetBand(self.measure, span.low, span.high)

    def value(self, measures: Measures, currency: str = "") -> float:
        """The one value of a tolerance, in the unit of its measure.

        Raises:
            BadInput: it can't be read, or is a range.
        """
        span = parse_span(self.text, self._quantity, measures, currency=currency)
        if span.aim is None:
            what = f"'{short(self.text)}' is a range where one value is wanted"
            raise BadInput(what, remedy="Ranges belong in [aims] and [limits].")
        return span.aim

    def tolerance(self, measures: Measures, currency: str = "") -> float:
        """As `value`, of what one noticeable difference is.

        Raises:
            BadInput: as `value`, or it is nothing.
        """
        value = self.value(measures, currency)
        if value <= 0:
            raise BadInput("a tolerance of nothing can't be met", remedy="Make it larger.")
        return value

    def range(self, measures: Measures, currency: str = "") -> TargetRange:
        """The range of a limit, in the unit of its measure.

        Raises:
            BadInput: it can't be read, or is one value, which poured amounts would never hit.
        """
        span = parse_span(self.text, self._quantity, measures, currency=currency)
        if span.aim is not None:
            what = f"'{short(self.text)}' is one value where a range is wanted"
            remedy = f"Write <={self.text.strip()} or a range like 1..2; an aim belongs in [aims]."
            raise BadInput(what, remedy=remedy)
        return TargetRange(self.measure, span.low, span.high)

    @property
    def _quantity(self) -> str:
        return MEASURES[self.measure].quantity


@dataclass(frozen=True)
class TargetBand:
    """The band of an aim in the unit of its measure; both ends are the same for one value."""

    measure: str
    low: float
    high: float


@dataclass(frozen=True)
class TargetValue:
    """A tolerance in the unit of its measure."""

    measure: str
    value: float


@dataclass(frozen=True)
class TargetRange:
    """A limit in the unit of its measure; either side may be open."""

    measure: str
    low: float | None
    high: float | None


@dataclass(frozen=True)
class ProfileTargets:
    """Everything that a profile asks of the finished drink, as numbers."""

    aims: tuple[TargetBand, ...]
    limits: tuple[TargetRange, ...]
    tolerances: tuple[TargetValue, ...]
