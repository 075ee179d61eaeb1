"""What the bar thinks of its drinks."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from solver.harmony.taste import counted_for
from solver.pantry.spec import Spec
from solver.show.documents.contract import document
from solver.show.text.tasted import tastings_of


def tasted_json(specs: Sequence[Spec]) -> str:
    """The document of the tastings of some specs."""
    return document("tasted", {"status": "listed", "specs": [_spec_fields(each) for each in specs]})


def _spec_fields(spec: Spec) -> dict[str, Any]:
    found = tastings_of(spec)
    return {
        "name": spec.name,
        "mean_score": found.mean if found else None,
        "tastings": tasted_fields(spec),
    }


def tasted_fields(spec: Spec) -> list[dict[str, Any]]:
    """What documents say of the tastings of a spec, the first first."""
    return [
        {
            "date": note.date.isoformat(),
            "score": note.score,
            "words": note.words,
            "poured": list(note.poured),
            "counts_for_published_drinks": counted_for(note.score),
        }
        for note in spec.tasted
    ]
