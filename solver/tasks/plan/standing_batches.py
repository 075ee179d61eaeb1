"""A batch that a plan may pour."""

from __future__ import annotations

from solver.drinks.mixed_ahead import MixedAhead, mixed_ahead
from solver.pantry.bar import Bar
from solver.pantry.batches import BATCH, is_batch_of
from solver.pantry.spec import Spec
from solver.pantry.stocked import Stocked


def standing_batch(spec: Spec, bar: Bar) -> MixedAhead | None:
    """The batch of a drink that is good today for a serve at least."""
    mixed = _mixed(spec, bar)
    return mixed if mixed is not None and mixed.serves else None


def set_aside(spec: Spec, bar: Bar) -> MixedAhead | None:
    """The batch of a drink that is good today and another drink than the spec is now."""
    mixed = _mixed(spec, bar)
    return mixed if mixed is not None and mixed.another and mixed.good_ml else None


def of_no_spec(bar: Bar) -> tuple[Stocked, ...]:
    """The batches that are good today and of a drink that the bar has no spec of; none where a
    spec can't be read, which may be theirs."""
    rows = [row for row in bar.stock if row.ingredient.is_kind(BATCH) and row.on_hand]
    if not rows or bar.book.misread:
        return ()
    names = [spec.name for spec in bar.book.specs]
    return tuple(
        row for row in rows if not any(is_batch_of(row.ingredient, name) for name in names)
    )


def _mixed(spec: Spec, bar: Bar) -> MixedAhead | None:
    return None if bar.shelf is None else mixed_ahead(spec, bar.shelf, bar, bar.today)


def serve_ml(mixed: MixedAhead) -> float:
    """The mL that a serve takes of its batch, rounded down to 0.01 mL if that empties the batch,
    so that rounding loses no serve.
    """
    each = mixed.of_each(mixed.serves)
    return each if each == mixed.each_ml else each - 0.01
