"""Pour sold drinks from their batch first, if one is on the shelf."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from solver.drinks.mixed_ahead import MixedAhead, mixed_ahead
from solver.drinks.serve import Serve
from solver.pantry.bar import Bar
from solver.pantry.shelf import Shelf
from solver.pantry.spec import Spec
from solver.pantry.stocked import Stocked


@dataclass(frozen=True)
class FromBatch:
    """How a sold drink came out of its batch.

    `number` serves were poured from the batch called `key`, `each_ml` per serve, with the additions
    of `serve`; `past` is its row if it is past its last day, and was not poured. It is `older` if
    it was mixed by another recipe than the spec is now, and `another`, which is not poured, if a
    guest who was told of the spec would be told too little.
    """

    spec: Spec
    key: str
    each_ml: float
    serve: Serve
    number: float
    past: Stocked | None = None
    older: bool = False
    another: MixedAhead | None = None


def from_batch(spec: Spec, number: float, shelf: Shelf, bar: Bar, day: date) -> FromBatch | None:
    """The share of some serves that a batch provides; None if the shelf counts none of that day."""
    mixed = mixed_ahead(spec, shelf, bar, day)
    if mixed is None:
        return None
    poured = min(number, mixed.serves)
    each_ml = mixed.of_each(poured)
    return FromBatch(
        spec=spec,
        key=mixed.key,
        each_ml=each_ml,
        serve=mixed.serve(each_ml, bar),
        number=poured,
        past=None if mixed.good_ml else mixed.row,
        older=mixed.older,
        another=mixed if mixed.another and mixed.good_ml else None,
    )
