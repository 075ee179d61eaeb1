"""What in a drink speaks against it for a guest, whatever else is poured."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass

from solver.pantry.avoidance import Against, Avoidance
from solver.pantry.bar import Bar
from solver.pantry.disclosure import Disclosure
from solver.pantry.spec import Spec


@dataclass(frozen=True)
class Objection:
    """Something in a drink that speaks against it for who avoids a word."""

    word: str
    name: str
    against: Against


def objections(
    parts: Iterable[tuple[str, Disclosure]], words: Sequence[Avoidance]
) -> tuple[Objection, ...]:
    """What of some parts of a drink, each by its name, speaks against it, word by word."""
    told = tuple(parts)
    return tuple(
        Objection(word.word, name, against)
        for word in words
        for name, each in told
        if (against := word.against(each)) is not None
    )


def in_notes(spec: Spec, bar: Bar) -> Iterator[tuple[str, Disclosure]]:
    """What the notes of a spec name, as one part of the drink; none without notes."""
    if spec.notes:
        yield "what its notes name", bar.mentions.notes(spec.notes)
