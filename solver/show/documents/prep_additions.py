"""What to add to a batch."""

from __future__ import annotations

from solver.show.documents.contract import document
from solver.tasks.prep.additions import Aimed


def aimed_json(found: Aimed) -> str:
    """The same for programs."""
    return document(
        "prep-aim",
        {
            "name": found.name,
            "start": {"g": found.start_g, "ml": found.start_ml},
            "added": [
                {"ingredient": a.ingredient.key, "g": a.grams, "ml": a.ml, "cost": a.cost}
                for a in found.added
            ],
            "aims": [
                {"measure": aim.measure.value, "aim": aim.value, "value": value}
                for aim, value in zip(found.aims, found.values, strict=True)
            ],
            "met": found.met,
            "volume_ml": found.volume_ml,
            "figures": found.figures,
            "held_back": [{"says": h.says, "values": list(h.values)} for h in found.held.limits],
            "unsettled": ["reasons"] if found.held.undecided else [],
            "assumed": list(found.assumed),
        },
    )
