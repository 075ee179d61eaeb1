"""What may come onto the shelf beside what stands there under the same name: the same thing alone,
since one file tells guests of both."""

from __future__ import annotations

from solver.drinks.in_the_bottle import not_heard
from solver.errors import BadInput
from solver.pantry.bar import Bar
from solver.pantry.disclosure import Disclosure
from solver.pantry.shelf import Shelf
from solver.pantry.stocked import Stocked


def refuse_another_beside(key: str, told: Disclosure, shelf: Shelf, bar: Bar) -> None:
    """Refuse something new of which a guest would not hear all that what stands there is.

    Raises:
        BadInput: it would be so, whatever day that is of, and however much nobody has counted.
    """
    row = standing(key, shelf)
    if row is not None and (less := not_heard(row.ingredient, told, bar)):
        raise by_another_recipe(key, f"it contains {', '.join(less)}")


def standing(key: str, shelf: Shelf) -> Stocked | None:
    """What stands on the shelf under a key, as far as is known; None where it is used up."""
    row = shelf.row(key)
    return None if row is None or row.on_hand == 0 else row


def by_another_recipe(key: str, why: str) -> BadInput:
    """That what stands there is another thing."""
    return BadInput(
        f"{key} by another recipe is on the shelf",
        why=f"{why}, and one label would be on both",
        remedy=f"Pour that first, or count it out: `equipour stock count {key} 0`.",
    )
