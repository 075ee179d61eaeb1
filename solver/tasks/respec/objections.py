"""What in a drink a guest avoids and no other pour would remove."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass

from solver.drinks.guest_notice import alcohol_in_steps
from solver.measures import Measure
from solver.mixture.blend import COLUMNS, ETHANOL
from solver.pantry.avoidance import Against, Avoidance
from solver.pantry.bar import Bar
from solver.pantry.disclosure import Disclosure
from solver.pantry.spec import Spec


@dataclass(frozen=True)
class Objection:
    """A part of a drink that is, or may be, what a word avoids.

    Nothing is `against` it but that it may add alcohol that no figure counts, if `word` is a
    measure of that.
    """

    word: str
    name: str
    against: Against | None


def objections(
    parts: Iterable[tuple[str, Disclosure]], words: Sequence[Avoidance]
) -> tuple[Objection, ...]:
    """The parts of a drink, given by name, that some words avoid; word by word. Empty if none."""
    told = tuple(parts)
    return tuple(
        Objection(word.word, name, against)
        for word in words
        for name, each in told
        if (against := word.against(each)) is not None
    )


def not_counted(spec: Spec, bar: Bar, limited: Iterable[Measure]) -> Iterator[Objection]:
    """Yield what the steps of a spec may add of alcohol, for each measure of it that is limited."""
    of_alcohol = [measure for measure in limited if measure.column == COLUMNS[ETHANOL]]
    if not (spec.steps and of_alcohol):
        return
    poured = {bar.bottles.find(pour.ingredient).key for pour in spec.pours}
    added = alcohol_in_steps(spec.written_steps, bar, poured)
    added += bar.mentions.unknown_in_steps(spec.written_steps).may_hold_alcohol
    if added:
        name = f"its steps ({', '.join(added)})"
        yield from (Objection(each.name, name, None) for each in of_alcohol)


def in_notes(spec: Spec, bar: Bar) -> Iterator[tuple[str, Disclosure]]:
    """Yield what the notes and the steps of a spec name beside its pours, each as one part."""
    poured = {bar.bottles.find(pour.ingredient).key for pour in spec.pours}
    if spec.notes:
        yield "what its notes name", bar.mentions.notes(spec.notes, poured)
    if spec.steps:
        steps = spec.written_steps
        yield "what its steps name", bar.mentions.steps(steps, poured)
        unknown = bar.mentions.unknown_in_steps(steps)
        yield f"its {''.join(unknown.allergens_not_known)}", unknown
