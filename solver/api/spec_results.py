"""What a swap and a rebalanced book come back with."""

from __future__ import annotations

import datetime
from typing import Literal

from pydantic import Field

from solver.api.shared_fields import Existing, Fields, HeldLimit, LeftOut, PastLastDay


class Held(Fields):
    """A measure that a drink is held to, before and after."""

    measure: str
    unit: str
    value: float
    tolerance: float
    before: float | None
    after: float | None
    distance: float | None


class PourChange(Fields):
    """A pour before and after, as the bar says it; None where it was not or is no longer there."""

    ingredient: str
    from_: str | None = Field(alias="from")
    to: str | None


class Told(Fields):
    """Something that a guest must be told, and did not have to be before; or no longer."""

    kind: str
    what: str


class HeldConflict(Fields):
    """Ranges that cannot hold together."""

    limits: list[HeldLimit]
    says: str


class Finer(Fields):
    """A pour set with which the drink could be kept."""

    pour_set: str
    answer: Existing | None


class Repoured(Fields):
    """A spec poured anew: as it was, as it is now, and what it was held to."""

    status: Literal["kept", "moved", "impossible"]
    approved: datetime.date | None
    before: Existing
    answer: Existing | None
    kept: list[Held]
    changed_pours: int
    changes: list[PourChange]
    gained: list[Told]
    lost: list[Told]
    cautions_gained: list[str]
    cautions_lost: list[str]
    conflicts: list[HeldConflict]
    finer: Finer | None
    reasons_complete: bool
    compared: int | None


class Scaled(Repoured):
    """A spec in another glass or volume, `times` as large.

    `glass_measured` says whether the bar knows what the glass takes, or it is what is usual; None
    without a glass. `share_of_line` is how full its glass was and is, None where that is not known.
    """

    times: float
    glass: str | None
    wash_line_ml: float | None
    glass_measured: bool | None
    share_of_line: float | None


class LikeForLike(Fields):
    """How much of another ingredient brings as much of one measure."""

    out: str
    in_: str = Field(alias="in")
    measure: str
    ml: float | None = None
    g: float | None = None


class Exchange(Repoured):
    """A spec with some ingredients in place of others."""

    out: list[str]
    in_: list[str] = Field(alias="in")
    like_for_like: list[LikeForLike]


class Carried(Fields):
    """A word of a guest's that speaks against an ingredient that the spec had before."""

    word: str
    in_: str = Field(alias="in")
    against: str


class CostLimit(Fields):
    """The most that a drink may cost, what it costs now, and if anything keeps to it."""

    most: float
    now: float
    kept: bool


class Swap(Fields):
    """A spec with the best that can be poured instead, and `alternatives` of other kinds.

    Its fields down to `compared` are those of `Exchange`, and None or empty where nothing at all
    stands in; `untried` are so many of which it is not known whether they are better.
    """

    status: Literal["kept", "moved", "impossible", "stopped"]
    approved: datetime.date | None = None
    before: Existing | None = None
    answer: Existing | None
    kept: list[Held] = Field(default_factory=list)
    changed_pours: int | None = None
    changes: list[PourChange] = Field(default_factory=list)
    gained: list[Told] = Field(default_factory=list)
    lost: list[Told] = Field(default_factory=list)
    cautions_gained: list[str] = Field(default_factory=list)
    cautions_lost: list[str] = Field(default_factory=list)
    conflicts: list[HeldConflict] = Field(default_factory=list)
    finer: Finer | None = None
    reasons_complete: bool | None = None
    compared: int | None = None
    out: list[str] = Field(default_factory=list)
    in_: list[str] = Field(alias="in", default_factory=list)
    like_for_like: list[LikeForLike] = Field(default_factory=list)
    alternatives: list[Exchange]
    untried: int
    carried: list[Carried]
    left_out: list[str]
    without: list[LeftOut]
    past: list[PastLastDay]
    cost_limit: CostLimit | None


class BookEntry(Fields):
    """What becomes of a spec; `result` is there where it was poured anew or looked into. `named` is
    gone, and stands in its garnish, steps or notes."""

    name: str
    file: str | None
    state: str
    out: list[str]
    named: list[str]
    result: Repoured | None


class EditedRecipe(Fields):
    """A house recipe that makes something else by now than is in stock of it."""

    recipe: str
    specs: list[str]
    wrong: str | None


class Rebalance(Fields):
    """The whole spec book after a change; `counts` are by state."""

    status: Literal["kept", "moved", "stopped"]
    changes: list[str]
    specs: list[BookEntry]
    counts: dict[str, int]
    seconds: float
    past: list[PastLastDay]
    edited_recipes: list[EditedRecipe]
