"""Swap an ingredient of a spec, and pour the rest so that it is the same drink in the glass."""

from __future__ import annotations

from collections.abc import Sequence

from solver.errors import BadInput
from solver.pantry.bar import Bar
from solver.pantry.ingredient import Ingredient
from solver.pantry.spec import Spec
from solver.printable import short
from solver.search.backend import Backend
from solver.search.clock import Clock
from solver.tasks.assess import Assessment, Line, assess
from solver.tasks.rebalance.instead import Swap, Swaps, ranked, replaced
from solver.tasks.rebalance.kept import kept_of
from solver.tasks.rebalance.nearest import SECONDS, rebalance
from solver.tasks.rebalance.places import Place


def swap(
    spec: Spec,
    bar: Bar,
    out: str,
    instead: str | None,
    backend: Backend,
    *,
    clock: Clock | None = None,
    unwanted: Sequence[str] = (),
) -> Swaps:
    """The spec with `out` replaced by `instead`, or by what the shelf has in its place, best first.

    `unwanted` are ingredients, kinds and what a guest avoids, none of which may stand in.

    Raises:
        BadInput, BadInputs: the spec is wrong, does not pour `out`, or an ingredient is not known.
        Unproven: the time was up for `instead`.
    """
    clock = clock or Clock.of(SECONDS)
    made = assess(spec, bar)
    line = poured(out, made, bar)
    kept = kept_of(made, bar)
    if instead is not None:
        item = bar.bottles.find(instead)
        one = {line.ingredient.key: item}
        return Swaps((replaced(one, made, kept, bar, backend, clock, reasons=True),))
    return ranked({line.ingredient.key}, made, kept, bar, backend, clock, unwanted=unwanted)


def split(
    spec: Spec, bar: Bar, out: str, among: str, backend: Backend, *, clock: Clock | None = None
) -> Swap:
    """The spec with `out` split among ingredients written like "rye-whiskey + apple-brandy".

    As much is poured of them together as before.

    Raises:
        BadInput, BadInputs: as `swap`; or they cannot share what there was.
        Unproven: the time was up.
    """
    made = assess(spec, bar)
    line = poured(out, made, bar)
    fillers = _several(among, line, bar)
    keys = {item.key for item in fillers} | {line.ingredient.key}
    total = sum(each.amount for each in made.lines if each.ingredient.key in keys)
    places = [
        Place(at, each, fillers, total) if each is line else Place(at, each, (each.ingredient,))
        for at, each in enumerate(made.lines)
        if each is line or each.ingredient.key not in keys
    ]
    kept = kept_of(made, bar)
    result = rebalance(places, made, kept, bar, backend, clock or Clock.of(SECONDS), reasons=True)
    if result.after is None:
        what = f"{short(among)} cannot share {total:.4g} {line.ingredient.unit}"
        why = f"no pours of {bar.pour_set.name} add up to that, in the glass"
        raise BadInput(what, why=why, remedy="Choose a finer pour set, or a larger glass.")
    return Swap((line.ingredient,), fillers, result)


def poured(text: str, made: Assessment, bar: Bar) -> Line:
    """The line of a spec that pours an ingredient.

    Raises:
        BadInput: the ingredient is not known, or not poured.
    """
    key = bar.bottles.find(text).key
    for line in made.lines:
        if line.ingredient.key == key:
            return line
    what = f"{made.spec.name} pours no '{short(text)}'"
    keys = ", ".join(line.ingredient.key for line in made.lines)
    raise BadInput(what, remedy=f"It pours {keys}.")


def _several(among: str, line: Line, bar: Bar) -> tuple[Ingredient, ...]:
    """The ingredients of a split.

    Raises:
        BadInput: one is not known, given twice, alone, or measured in another unit.
    """
    found = [bar.bottles.find(" ".join(name.split())) for name in among.split("+")]
    unlike = [item for item in found if item.per != line.ingredient.per]
    if len({item.key for item in found}) < max(2, len(found)) or unlike:
        what = f"'{short(among)}' does not split {line.ingredient.name}"
        why = f"{unlike[0].name} is measured in {unlike[0].unit}" if unlike else ""
        raise BadInput(what, why=why, remedy="Write it like 'rye-whiskey + apple-brandy'.")
    return tuple(found)
