"""Batches of one name that stand beside each other, each with its own dates, as a cell says them.

The cell is like "900 ml made 2026-05-08 use by 2026-05-20; 1 bottle made 2026-05-10".
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable
from dataclasses import dataclass
from datetime import date

from solver.errors import BadInput
from solver.pantry.dates import read_date
from solver.printable import short
from solver.quantities import show_number

_LOT = re.compile(
    r"(?P<amount>.+?)(?: made (?P<made>\S+?))?(?:,? use by (?P<use_by>\S+))?", re.IGNORECASE
)


@dataclass(frozen=True)
class Lot:
    """So much of a batch, in its ingredient's own unit, the day it was made and its last one.

    `use_by` None: nobody has said; its days of life may.
    """

    amount: float
    made: date | None
    use_by: date | None


def read_lots(text: str, amount: Callable[[str], float]) -> tuple[Lot, ...]:
    """The batches in a cell; `amount` reads one of their amounts.

    Raises:
        BadInput: it can't be read.
    """
    return tuple(_lot(each, amount) for each in map(str.strip, text.split(";")) if each)


def _lot(text: str, amount: Callable[[str], float]) -> Lot:
    found = _LOT.fullmatch(text)
    if found is None:
        what = f"'{short(text)}' is no batch"
        remedy = "Write it like 900 ml made 2026-05-08 use by 2026-05-20."
        raise BadInput(what, remedy=remedy)
    made, use_by = (read_date(found[name] or "") for name in ("made", "use_by"))
    return Lot(amount(found["amount"]), made, use_by)


def written_lots(lots: Iterable[Lot], per: str) -> str:
    """A cell that says the batches; amounts are in `per`, "ml" or "g", to a tenth."""
    return "; ".join(
        f"{show_number(each.amount)} {per}"
        f"{f' made {each.made.isoformat()}' if each.made else ''}"
        f"{f' use by {each.use_by.isoformat()}' if each.use_by else ''}"
        for each in lots
    )
