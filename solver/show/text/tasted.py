"""What the bar thinks of its drinks."""

from __future__ import annotations

from collections.abc import Sequence

from solver.harmony.taste import NEUTRAL, TASTED, Tastings
from solver.pantry.spec import BEST, WORST, Spec, Tasting
from solver.quantities import show_number


def tasted_text(specs: Sequence[Spec]) -> str:
    """Every tasting of some specs, and what they count for."""
    told = [(spec, found) for spec in specs if (found := tastings_of(spec))]
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


def tastings_of(spec: Spec) -> Tastings | None:
    """What the scores of a spec come to. None without any."""
    return Tastings.of([note.score for note in spec.tasted])


def tasted_words(found: Tastings) -> str:
    """How often something was tasted, and what was thought of it: "twice: 2 of 5"."""
    times = {1: "once", 2: "twice"}.get(found.count, f"{found.count} times")
    return f"{times}: {show_number(round(found.mean, 1))} of {BEST}"


def tasted_lines(spec: Spec) -> list[str]:
    """What the bar thinks of a spec, in a line; empty if nobody tasted it."""
    found = tastings_of(spec)
    if found is None:
        return []
    last = spec.tasted[-1]
    why = f", {last.words}" if last.words else ""
    return [f"Tasted {tasted_words(found)}; last on {last.date}{why}."]
