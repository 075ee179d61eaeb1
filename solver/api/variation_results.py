"""How a drink varies from one to the next: `--json` of `vary`, as types."""

from __future__ import annotations

from typing import Literal

from solver.api.shared_fields import Fields


class Spread(Fields):
    """A measure over the drawn drinks: nine of ten lie from `low` to `high`.

    `under` and `over` are the shares below and above the target, or, where the profile aims for
    nothing of it, a noticeable difference from `written`.
    """

    measure: str
    unit: str
    written: float
    low: float
    high: float
    under: float
    over: float


class Varying(Fields):
    """What is not the same each time, `ingredient` None for the melt.

    `what` is "amount" (mL, or g of what is weighed), "abv", "sugar", "acid", or "melt" (times the
    usual). `share_if_held` is the share of drinks as they should be if it were always `usual`.
    """

    what: str
    ingredient: str | None
    low: float
    usual: float
    high: float
    source: str
    share_if_held: float
    gain: float
    says: str


class Variation(Fields):
    """How many of `tries` drawn drinks are on target, within the limits, and as written: 0 to 1."""

    status: Literal["varied"]
    name: str
    profile: str | None
    tries: int
    on_target: float | None
    within_limits: float | None
    as_written: float
    judged_by: Literal["target", "limits", "noticed"]
    measures: list[Spread]
    strays: list[Varying]
