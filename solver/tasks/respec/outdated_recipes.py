"""House recipes whose next batch would differ from the one in stock."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from solver.drinks.approval import NOTICED
from solver.errors import BadInput, BadInputs
from solver.pantry.bar import Bar
from solver.tasks.prep.impact_on_specs import SpecImpact, impacts_on_specs
from solver.tasks.prep.prepare import prepare


@dataclass(frozen=True)
class Unstocked:
    """A recipe whose next batch would change drinks; or that cannot be followed, and why."""

    key: str
    name: str
    impacts: tuple[SpecImpact, ...] = ()
    wrong: str = ""


def unstocked(bar: Bar, today: date) -> tuple[Unstocked, ...]:
    """Recipes that were edited since their figures were stated, if that changes a drink noticeably.

    The drinks of the book are computed with the stated figures until a batch is in stock.

    Raises:
        BadInput, BadInputs: a spec is wrong, with its line.
    """
    found: list[Unstocked] = []
    for recipe in bar.recipes.values():
        if not recipe.stated:
            continue
        try:
            prep = prepare(recipe, bar, today)
        except (BadInput, BadInputs) as error:
            found.append(Unstocked(recipe.key, recipe.dish.name, wrong=str(error)))
            continue
        moving = tuple(each for each in impacts_on_specs(prep, bar) if each.most >= NOTICED)
        if moving:
            found.append(Unstocked(recipe.key, recipe.dish.name, moving))
    return tuple(found)
