"""How far from books a drink may go: a dial of three steps."""

from __future__ import annotations

import enum


@enum.unique
class Dial(enum.StrEnum):
    """From what books pour to what few have poured."""

    BY_THE_BOOK = "by-the-book"
    """How usual an ingredient is counts in full: what books pour most."""
    FAMILIAR = "familiar"
    """What goes together matters somewhat more: the best compromise on published drinks."""
    SELDOM_POURED = "seldom-poured"
    """It does not count: what goes together, by however few drinks."""

    @property
    def weight(self) -> float:
        """What the share of an ingredient in its part weighs against pairs."""
        return _WEIGHTS[self]


_WEIGHTS = {Dial.BY_THE_BOOK: 1.0, Dial.FAMILIAR: 0.7, Dial.SELDOM_POURED: 0.0}
