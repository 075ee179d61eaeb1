"""What the bar thinks of its drinks, for people and for programs."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from solver.harmony.taste import NEUTRAL, TASTED, Tastings, counted_for
from solver.pantry.spec import BEST, WORST, Spec, Tasting
from solver.quantities import show_number
from solver.show.contract import document


def tasted_text(specs: Sequence[Spec]) -> str:
    """Every tasting of some specs, and what they count for."""
    told = [(spec, found) for spec in specs if (found := _thought(spec))]
    if not told:
        what = specs[0].name if len(specs) == 1 else "anything"
        scale = f"{WORST} is never again, {BEST} is for the card"
        note_one = 'Note one: equipour tasted SPEC --score 4 "too smoky"'
        return f"No tasting of {what} is noted. {note_one}; {scale}."
    lines = [line for spec, found in told for line in [*_spec_lines(spec, found), ""]]
    return "\n".join([*lines, HOW])


HOW = (
    f"For every two of its ingredients, a {BEST} counts like {TASTED:g} published drinks that pour "
    f"both, a {WORST} like {TASTED:g} that should and do not, a {NEUTRAL:g} for nothing: our own "
    "choice."
)


def _spec_lines(spec: Spec, found: Tastings) -> list[str]:
    heading = f"{spec.name}, tasted {tasted_words(found)}"
    return [heading, *(f"  {note.date}  {_note(note)}" for note in spec.tasted)]


def _note(note: Tasting) -> str:
    return f"{note.score} of {BEST}{f'  {note.words}' if note.words else ''}"


def _thought(spec: Spec) -> Tastings | None:
    return Tastings.of([note.score for note in spec.tasted])


def tasted_words(found: Tastings) -> str:
    """How often something was tasted, and what was thought of it: "twice: 2 of 5"."""
    times = {1: "once", 2: "twice"}.get(found.count, f"{found.count} times")
    return f"{times}: {show_number(round(found.mean, 1))} of {BEST}"


def tasted_lines(spec: Spec) -> list[str]:
    """What the bar thinks of a spec, in a line; empty if nobody tasted it."""
    found = _thought(spec)
    if found is None:
        return []
    last = spec.tasted[-1]
    why = f", {last.words}" if last.words else ""
    return [f"Tasted {tasted_words(found)}; last on {last.date}{why}."]


def tasted_json(specs: Sequence[Spec]) -> str:
    """The document of the tastings of some specs."""
    return document("tasted", {"status": "listed", "specs": [_spec_fields(each) for each in specs]})


def _spec_fields(spec: Spec) -> dict[str, Any]:
    found = _thought(spec)
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
