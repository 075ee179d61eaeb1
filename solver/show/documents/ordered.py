"""A drink of the bar as somebody orders it."""

from __future__ import annotations

from solver.pantry.bar import Bar
from solver.show.documents.contract import document
from solver.show.documents.design import design_fields
from solver.show.documents.rebalanced import rebalanced_fields
from solver.show.documents.swapped import objection_fields
from solver.tasks.design_result import Status
from solver.tasks.respec.order import GuestOrder


def order_json(task: str, ordered: GuestOrder, bar: Bar) -> str:
    """The document of an order."""
    origin = ordered.spec.origin
    fields = design_fields(ordered.found, bar)
    if ordered.objections:
        fields |= {"status": Status.IMPOSSIBLE.value, "answer": None}
    return document(
        task,
        {
            **fields,
            "spec": {"name": ordered.spec.name, "file": origin.name if origin else None},
            "carried": [objection_fields(each) for each in ordered.objections],
            "beside": rebalanced_fields(ordered.poured, bar) if ordered.poured else None,
        },
    )
