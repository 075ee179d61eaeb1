"""What a guest is told of a drink that waits in a bottle, ahead of its garnish.

What steps and notes name may be put in before it is bottled, or at service: nobody says which.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace

from solver.pantry.bar import Bar
from solver.pantry.disclosure import Disclosure, together, told_too_little
from solver.pantry.ingredient import Ingredient
from solver.pantry.spec import Spec


def told_in_bottle(items: Iterable[Ingredient], spec: Spec, bar: Bar) -> Disclosure:
    """What some of the pours of a spec are to a guest, with what its steps and notes name."""
    return together((certain_in_bottle(items, spec, bar), _of_notes(spec, bar)))


def certain_in_bottle(items: Iterable[Ingredient], spec: Spec, bar: Bar) -> Disclosure:
    """The same without its notes, of which nothing is certain."""
    steps = spec.written_steps
    said = bar.mentions.steps(steps, _poured(spec, bar)), bar.mentions.unknown_in_steps(steps)
    return together((*map(bar.told_of, items), *(said if steps else ())))


def not_heard(item: Ingredient, now: Disclosure, bar: Bar) -> tuple[str, ...]:
    """What somebody who is told `now` of what stands there as `item` does not hear, in words."""
    less = told_too_little(bar.told_of(item), replace(now, holds=now.holds | {item.key}))
    named = ((word, bar.bottles.by_key(word)) for word in sorted(less))
    return tuple(word if found is None else found.name for word, found in named)


def _of_notes(spec: Spec, bar: Bar) -> Disclosure:
    return bar.mentions.notes(spec.notes, _poured(spec, bar)) if spec.notes else Disclosure()


def _poured(spec: Spec, bar: Bar) -> frozenset[str]:
    return frozenset(pour.ingredient.key for pour in spec.poured(bar.bottles, bar.measures))
