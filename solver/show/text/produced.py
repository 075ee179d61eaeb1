"""A batch that goes onto the shelf: what it is there, what it took, what stands beside it."""

from __future__ import annotations

from collections.abc import Iterator

from solver.pantry.stocked import Stocked
from solver.quantities import show_number
from solver.show.words.names_in_a_row import listed
from solver.tasks.stock.made_batch import Produced


def produced_lines(found: Produced) -> Iterator[str]:
    """What is written, for people."""
    row = found.movement.after.row(found.key)
    new = next((lot for lot in row.lots if lot.opened == found.made), row) if row else None
    dates = "" if new is None else f", {_dates(new)}"
    yield f"In stock: {found.volume_ml:.0f} mL of {found.key}{dates}."
    if found.ready is not None:
        yield (
            f"Ready on {found.ready}, and not poured before. If it has stood already, say when it "
            f"was begun: `equipour stock open {found.key} --on DAY`."
        )
    for each in found.taken:
        size, unit = each.ingredient.counted_in
        yield (
            f"  {show_number(each.units / size)} {unit} of {each.ingredient.name} taken, "
            f"{show_number(each.left / size)} {unit} left"
        )
    if found.uncounted:
        yield f"Not counted on the shelf, and not taken off it: {listed(found.uncounted)}."
    if found.older:
        said = listed(f"{lot.on_hand or 0.0:.0f} mL {_dates(lot)}" for lot in found.older)
        yield f"There beside it: {said}. What must be used first is poured first."
        if not all(lot.ingredient.was_made_of for lot in found.older):
            yield "Nobody wrote down what that was made of: it is taken to be by the same recipe."
        yield f"The figures of {found.house.name} are those of the new batch."
    number = found.movement.entry.number
    yield f"Entry {number}: `equipour stock undo {number}` takes it back."


def _dates(lot: Stocked) -> str:
    made = f"made {lot.opened.isoformat()}" if lot.opened else "made nobody knows when"
    return f"{made}, use by {lot.use_by.isoformat()}" if lot.use_by else made
