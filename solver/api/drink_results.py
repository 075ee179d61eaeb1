"""What a design, an assessment and a trade-off come back with: `--json`, format 1, as types.

`status` is what the exit code says on the command line: "optimal" or "kept" for an answer,
"impossible" where it is proven that there is none, "stopped" where the time was too short to tell.
"""

from __future__ import annotations

from typing import Literal

from pydantic import ConfigDict, Field

from solver.api.notebook import said, table
from solver.api.shared_fields import Answer, Existing, Fields, HeldLimit, LeftOut, PastLastDay

Status = Literal["optimal", "impossible", "stopped", "disputed"]


class Worth(Fields):
    """What a limit costs: how the goal changes with one `step` of it and without it, in `unit`.

    `until` is where loosening it stops to help. Where the goal is what is in keeping, `instead`
    has the ingredients that would be poured without it, and nothing else is there.
    """

    step: float | None = None
    change: float | None = None
    until: float | None = None
    dropped: float | None = None
    unit: str = ""
    instead: list[str] | None = None


class Limit(Fields):
    """Something that was asked, with what is known of it; `binding` is None where nobody looked."""

    name: str
    measure: str | None
    low: float | None
    high: float | None
    unit: str
    value: float | None
    slack: float | None
    origin: str
    binding: bool | None
    worth: Worth | None
    says: str


class Conflict(Fields):
    """Limits, by name, that cannot hold together, while all but any one of them can."""

    limits: list[str]
    says: str


class Change(Fields):
    """A limit that is moved, or dropped where `to` is None."""

    limit: str
    from_: float | None = Field(alias="from")
    to: float | None
    unit: str


class Needed(Fields):
    """How much of an ingredient must be there; mL, or g of what is weighed."""

    ingredient: str
    ml: float | None = None
    g: float | None = None


class WayOut(Fields):
    """The least that makes a request possible, and the drink that results."""

    changes: list[Change]
    bought: list[str]
    needed: list[Needed]
    answer: Answer
    says: str


class Dispute(Fields):
    """What a second solver comes to, where it does not agree: a fault of equipour."""

    solver: str
    objective: float | None
    bound: float | None
    answer: Answer | None


class Proof(Fields):
    """What was proven. `gap` is between the objective and its bound, in the goal's unit."""

    goal: str
    objective: float | None
    bound: float | None
    gap: float | None
    tolerance: float
    compared: int | None
    solver: str | None
    verified_by: str | None
    dispute: Dispute | None
    goal_settled: bool
    more_in_keeping: int | None
    off_target: float | None
    seconds: float
    checked: bool


class SaidWord(Fields):
    """What a word of the bar's asked; `without_band` are measures of which it could ask nothing."""

    word: str
    asks: list[str]
    without_band: list[str]


class Floor(Fields):
    """How much in keeping a drink was asked to be; `most` is the best there is where none is so."""

    published_pct: float
    most: Answer | None


class FarOff(Fields):
    """A value that was asked for, in the unit of its measure, and what the closest drink has: it is
    so many noticeable differences off, below 0 for too little."""

    measure: str
    asked: float
    value: float
    steps: float


class Lengthens(Fields):
    """The drink that a long one was made of: what of it is in the long one, and what is not;
    `steps_left_out` are a spec's own words for the short one."""

    drink: str
    kept: list[str]
    left_out: list[str]
    steps_left_out: list[str]


class Design(Fields):
    """A request answered: a drink and its proof, or why there is none and what would help."""

    status: Status
    answer: Answer | None
    alternatives: list[Answer]
    limits: list[Limit]
    conflicts: list[Conflict]
    ways_out: list[WayOut]
    left_out: list[str]
    unsettled: list[str]
    interrupted: bool
    reasons_complete: bool | None
    without: list[LeftOut]
    past: list[PastLastDay]
    words: list[SaidWord]
    far_off: list[FarOff]
    lengthens: Lengthens | None
    only_larger: bool
    as_in_keeping: Floor | None
    proof: Proof

    def _repr_html_(self) -> str:
        """The drink as a table, or why there is none."""
        if self.answer is None:
            reasons = [each.says for each in self.conflicts]
            reasons += [each.says for each in self.ways_out]
            return said(f"No drink: {self.status}", reasons)
        proof = "Proven." if self.status == "optimal" else f"Not proven: {self.status}."
        return table(self.answer, [proof])


class AimMet(Fields):
    """How a measure stands to its band; `distance` is in noticeable differences."""

    measure: str
    unit: str
    aim: tuple[float, float]
    tolerance: float
    value: float | None
    distance: float | None
    says: str


class LimitMet(Fields):
    """Whether a limit is kept; None where it is not known."""

    name: str
    measure: str
    low: float | None
    high: float | None
    unit: str
    value: float | None
    kept: bool | None
    says: str


class Assessment(Fields):
    """What an existing drink is in the glass, and how it keeps to a profile."""

    status: Literal["assessed"]
    answer: Existing
    aims: list[AimMet]
    limits: list[LimitMet]
    departures: list[str]

    def _repr_html_(self) -> str:
        """The drink as a table, and how far it keeps to its profile."""
        return table(self.answer, [each.says for each in self.aims])


class Axis(Fields):
    """One of the two measures of a trade-off."""

    name: str
    key: str
    unit: str


class TradeoffProof(Fields):
    """How far a curve is proven; `tolerance` is None where all drinks were compared."""

    compared: int | None
    solver: str | None
    tolerance: float | None
    seconds: float
    checked: bool


class Spot(Fields):
    """A drink on the curve; its two values are fields too, by the keys of `between`."""

    model_config = ConfigDict(frozen=True, extra="allow")

    chosen: bool
    answer: Answer


class Stretch(Fields):
    """A stretch of the curve that was not searched: its two ends."""

    from_: dict[str, float | None] = Field(alias="from")
    to: dict[str, float | None]


class Tradeoff(Fields):
    """The Pareto front of two measures: what less of one costs in the other."""

    status: Literal["optimal", "impossible", "stopped"]
    between: tuple[Axis, Axis]
    points: list[Spot]
    complete: bool
    unsearched: list[Stretch]
    chosen: Answer | None
    limits: list[HeldLimit]
    proof: TradeoffProof
