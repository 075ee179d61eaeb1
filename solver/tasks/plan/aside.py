"""A batch that is another drink by now, or of no spec, is over on its last day all the same."""

from __future__ import annotations

from collections.abc import Iterator

from solver.tasks.plan.answer import Ending
from solver.tasks.plan.question import Question


def aside_endings(question: Question) -> Iterator[Ending]:
    """What is set aside and has a last day, from today on."""
    for row in (*(mixed.row for mixed in question.set_aside), *question.of_no_spec):
        for lot in row.lots:
            if lot.on_hand and lot.use_by is not None and lot.use_by >= question.first:
                price = lot.price_per_unit
                worth = None if price is None else price * lot.on_hand
                yield Ending(lot.ingredient, lot.use_by, lot.on_hand, worth, (), None)
