"""What stock that moves comes back with."""

from __future__ import annotations

import datetime

from solver.api.shared_fields import Fields


class CellMove(Fields):
    """A cell of the shelf, or a figure of a house file, before and after, as written."""

    ingredient: str
    cell: str
    before: str
    after: str


class LogEntry(Fields):
    """All that one command moved; `undone` where the log tells."""

    number: int
    date: datetime.date
    what: str
    why: str
    file: str
    undoes: int | None
    moves: list[CellMove]
    undone: bool | None = None


class StockLog(Fields):
    """What moved on the shelf, oldest first."""

    entries: list[LogEntry]


class Dated(Fields):
    """Something with a last day, each batch by itself; `on_hand` None where nobody has counted."""

    ingredient: str
    use_by: datetime.date | None
    on_hand_ml: float | None = None
    on_hand_g: float | None = None
    worth: float | None


class StockPast(Fields):
    """What is past its last day, and what soon will be."""

    today: datetime.date
    currency: str
    past: list[Dated]
    within_days: int
    soon: list[Dated]


class SoldDrink(Fields):
    """A drink that was sold, and what the till calls it."""

    spec: str
    till: str
    sold: float


class SoldFromBatch(Fields):
    """Serves that came out of a batch; none where that is past its last day. Of an `older_recipe`
    it holds other amounts than the spec; of `another_recipe` it is another drink to a guest, and
    nothing is poured of it."""

    spec: str
    batch: str
    serves: float
    each_ml: float
    past: bool
    older_recipe: bool
    another_recipe: bool


class RowMoved(Fields):
    """A row of the shelf before and after, and what was poured of it."""

    ingredient: str
    before_ml: float | None = None
    before_g: float | None = None
    after_ml: float | None = None
    after_g: float | None = None
    poured_ml: float | None = None
    poured_g: float | None = None
    use_by: datetime.date | None


class Sold(Fields):
    """What sales take from the shelf; `entry` None where nothing of it is there.

    `columns` are the headings that were read, or their places, by "drink", "sold" and "date";
    `voided` drinks had a minus. `taken_as_fruit` are juices beyond what was counted.
    """

    columns: dict[str, str]
    voided: float
    drinks: list[SoldDrink]
    from_batches: list[SoldFromBatch]
    entry: LogEntry | None
    rows: list[RowMoved]
    not_on_shelf: list[str]
    never_counted: list[str]
    taken_as_fruit: list[str]
    garnish_not_weighed: list[str]
    ran_out: list[str]
    opened: list[str]
    new_bottle_begun: list[str]
    past: list[str]
    before_ready: list[str]
    skipped: list[str]
