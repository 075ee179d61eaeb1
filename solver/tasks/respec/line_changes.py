"""The lines of a spec before and after a change, aligned."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from solver.drinks.assess import Assessment
from solver.pantry.pour import Pour
from solver.tasks.respec.slots import FilledSlot


@dataclass(frozen=True)
class LineChange:
    """A line before and after; one of the two is None if the ingredient is poured only once."""

    was: Pour | None
    now: Pour | None

    @property
    def line(self) -> Pour:
        """The line after the change, or before it if it is gone."""
        found = self.now or self.was
        if found is None:
            message = "nothing stands beside nothing"
            raise ValueError(message)
        return found

    @property
    def same(self) -> bool:
        """Whether the amount is unchanged."""
        return self.was is not None and self.now is not None and self.was.amount == self.now.amount


def line_changes(
    before: Assessment, after: Assessment, filled: Sequence[FilledSlot]
) -> tuple[LineChange, ...]:
    """The lines of two specs, aligned by ingredient; a new one follows the line that it replaces.

    `filled` are the slots that the lines of `after` fill, in their order.
    """
    fresh = [(each.slot.at, line) for each, line in zip(filled, after.lines, strict=True)]
    own: dict[int, Pour] = {}
    for at, old in enumerate(before.lines):
        alike = [each for each in fresh if each[1].ingredient.key == old.ingredient.key]
        if alike:
            nearest = min(alike, key=lambda each: abs(each[0] - at))
            fresh.remove(nearest)
            own[at] = nearest[1]
    rows: list[LineChange] = []
    for at, old in enumerate(before.lines):
        rows.append(LineChange(old, own.get(at)))
        rows += [LineChange(None, line) for slot, line in fresh if slot == at]
    return tuple(rows)
