"""The shares of a split, stated or equal, and how far from them one may pour."""

from __future__ import annotations

import re
from collections.abc import Sequence

from solver.errors import BadInput
from solver.pantry.bar import Bar
from solver.printable import short
from solver.quantities import PourSpan, Unit
from solver.tasks.respec.slots import Slot

_STATED = re.compile(
    r"\s*(?:(?P<part>\d{1,2})\s*/\s*(?P<whole>\d{1,2})|(?P<pct>\d{1,2}(?:\.\d+)?)\s*%)\s+(?P<name>.*)"
)
_ROUNDING = 1e-6


def read_shares(among: str) -> tuple[tuple[str, ...], tuple[float, ...]]:
    """Read the names and shares of a split like "rye + bourbon" or "2/3 rye + bourbon".

    Ingredients without a share divide the rest equally.

    Raises:
        BadInput: the shares do not come to one.
    """
    names: list[str] = []
    stated: list[float | None] = []
    for text in among.split("+"):
        found = _STATED.fullmatch(text)
        name = text if found is None else found["name"]
        names.append(" ".join(name.split()))
        stated.append(None if found is None else _share(found))
    left = 1.0 - sum(share or 0.0 for share in stated)
    open_ = stated.count(None)
    if any(share == 0 for share in stated) or (
        left <= _ROUNDING if open_ else abs(left) > _ROUNDING
    ):
        what = f"the shares of '{short(among)}' do not come to one"
        raise BadInput(what, remedy="Write it like '2/3 rye-whiskey + apple-brandy'.")
    return tuple(names), tuple(left / open_ if share is None else share for share in stated)


def _share(found: re.Match[str]) -> float:
    if found["pct"]:
        return float(found["pct"]) / 100
    whole = int(found["whole"])
    return int(found["part"]) / whole if whole else 0.0


def nearer_first(slots: Sequence[Slot], bar: Bar) -> list[list[Slot]]:
    """The slots of a split, once for each measurable largest deviation from its shares,
    ascending."""
    total = max(slot.total or 0.0 for slot in slots)
    off = {
        round(abs(amount - share * total), 6)
        for slot in slots
        if slot.total is not None
        for item, share in zip(slot.fillers, slot.shares, strict=True)
        for amount in bar.pour_set.amounts_of(
            item, PourSpan(0.0, total, Unit(item.per), ""), bar.measures
        )
    }
    return [
        [slot.within(most + _ROUNDING) if slot.total is not None else slot for slot in slots]
        for most in sorted(off)
    ]
