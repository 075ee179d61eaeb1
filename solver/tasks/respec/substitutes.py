"""Stand-ins for an ingredient of a spec, ranked."""

from __future__ import annotations

import itertools
import math
from collections.abc import Callable, Collection, Iterable, Mapping, Sequence
from contextlib import suppress
from dataclasses import dataclass, replace

from solver.clock import Clock, Work
from solver.drinks.assess import Assessment
from solver.errors import Unproven
from solver.harmony.counted import load_counts
from solver.harmony.harmony import Harmony, Known
from solver.measures import Measure
from solver.pantry.bar import Bar
from solver.pantry.ingredient import Ingredient
from solver.pantry.pour import Pour
from solver.requests.bar_taste import taste_of
from solver.search.milp.backend import Backend
from solver.tasks.respec.held_ranges import HeldRanges
from solver.tasks.respec.rebalanced import Rebalanced
from solver.tasks.respec.repour import rebalance
from solver.tasks.respec.similarity import Contributions, stand_ins, strangeness
from solver.tasks.respec.slots import Slot, part_of

SMOKE = "smoke"
MOST_TRIED = 60
"""Combinations of stand-ins that are solved for one spec; of more, the closest related are."""


@dataclass(frozen=True)
class LikeForLike:
    """The amount of a stand-in that contributes as much to `measure` as the line; None: to the
    volume.

    `amount` is in the stand-in's own unit.
    """

    line: Pour
    instead: Ingredient
    measure: Measure | None
    amount: float


@dataclass(frozen=True)
class Swap:
    """A spec with ingredients replaced; `like` has the like-for-like amounts."""

    out: tuple[Ingredient, ...]
    instead: tuple[Ingredient, ...]
    result: Rebalanced
    like: tuple[LikeForLike, ...] = ()


@dataclass(frozen=True)
class Ranked:
    """Stand-ins, best first; `untried` is the number of those for which there was no time."""

    found: tuple[Swap, ...]
    untried: int = 0

    @property
    def best(self) -> Swap | None:
        """The best that was tried; None if there is none."""
        return self.found[0] if self.found else None


def replaced(
    instead: Mapping[str, Ingredient],
    made: Assessment,
    kept: HeldRanges,
    bar: Bar,
    backend: Backend,
    clock: Clock,
    *,
    reasons: bool = False,
) -> Swap:
    """The spec with ingredients replaced, by key; for `reasons` see `rebalance`.

    A stand-in that is poured already takes over the amount of the line that it replaces.
    """
    own = {line.ingredient.key for line in made.lines}
    gone = {key for key, item in instead.items() if item.key in own and item.key != key}
    slots: list[Slot] = []
    for at, line in enumerate(made.lines):
        key = line.ingredient.key
        if key in gone:
            continue
        takes_over = [each for each in gone if instead[each].key == key]
        more = sum(each.amount for each in made.lines if each.ingredient.key in takes_over)
        slots.append(Slot(at, line, (instead.get(key, line.ingredient),), more=more))
    result = rebalance(slots, made, kept, bar, backend, clock, reasons=reasons)
    lines = [line for line in made.lines if line.ingredient.key in instead]
    like = [_like(line, instead[line.ingredient.key], kept, made) for line in lines]
    return Swap(
        tuple(line.ingredient for line in lines),
        tuple(instead[line.ingredient.key] for line in lines),
        result,
        tuple(each for each in like if each),
    )


def _like(line: Pour, item: Ingredient, kept: HeldRanges, made: Assessment) -> LikeForLike | None:
    contributions = Contributions.to(made, kept)
    amount = contributions.like_for_like(line.ingredient, line.amount, item)
    if amount is None:
        return None
    return LikeForLike(line, item, contributions.mainly(line.ingredient, line.amount), amount)


def ranked(
    out: set[str],
    made: Assessment,
    kept: HeldRanges,
    bar: Bar,
    backend: Backend,
    clock: Clock,
    *,
    offered: Sequence[Ingredient],
) -> Ranked:
    """The spec with each of `offered` in place of `out`, best first. Empty if none can stand in.

    The order is: out of the ranges by little at most; made of the same; least strain; fewest
    changed pours; most closely related; nearest. The strain is what a guest may notice: how far out
    of the ranges, in noticeable differences, one more for each of another kind, and one for each
    factor of e by which the drink is less usual than the most usual of them (our own choice). `out`
    are keys. If the first is out of range, it has the reasons.
    """
    firsts = {line.ingredient.key: line for line in reversed(made.lines)}
    lines = [line for key, line in firsts.items() if key in out]
    choices = [could_stand_in(line, made, kept, offered) for line in lines]
    each = max(1, int(MOST_TRIED ** (1 / max(1, len(lines)))))
    keys = [line.ingredient.key for line in lines]
    combinations = [
        dict(zip(keys, items, strict=True))
        for items in itertools.product(*(choice[:each] for choice in choices))
        if len({item.key for item in items}) == len(items)
    ]
    found: list[Swap] = []
    with suppress(Unproven):  # what was found before the time was up stays in the list
        for instead in combinations:
            clock.tell(Work.ITEMS, len(found), len(combinations))
            found.append(replaced(instead, made, kept, bar, backend, clock.unwatched))
    untried = len(combinations) - len(found)
    if len(found) > 1:
        worth = worth_with(made, bar)
        worths = [worth(_instead(each)) for each in found]
        less = [max(worths) - each if each < max(worths) else 0.0 for each in worths]
        ranks = [_rank(each, lost, bar) for each, lost in zip(found, less, strict=True)]
        found = [found[at] for at in sorted(range(len(found)), key=ranks.__getitem__)]
    if found and not found[0].result.held:
        best = dict(zip(keys, found[0].instead, strict=True))
        found[0] = _explained(found[0], best, made, kept, bar, backend, clock)
    return Ranked(tuple(found), untried)


def _explained(
    found: Swap, instead: Mapping[str, Ingredient], made: Assessment, kept: HeldRanges, bar: Bar,
    backend: Backend, clock: Clock,
) -> Swap:  # fmt: skip
    """The swap with the reasons why it is out of range, if there is time for them."""
    try:
        return replaced(instead, made, kept, bar, backend, clock, reasons=True)
    except Unproven:
        return replace(found, result=replace(found.result, undecided=True))


def could_stand_in(
    line: Pour, made: Assessment, kept: HeldRanges, items: Iterable[Ingredient]
) -> tuple[Ingredient, ...]:
    """Which of some ingredients could stand in for a line, the most closely related first.

    Loud ingredients, as smoke or anise, only stand in for loud ones, unless they are named; nor
    does what the profile names as no filling of that part.
    """
    loud, part = _is_loud(line.ingredient), part_of(line, made)
    not_it = part.not_ingredients if part else ()
    quiet = (
        item for item in items if (loud or not _is_loud(item)) and not item.answers_to_any(not_it)
    )
    return stand_ins(line.ingredient, line.amount, quiet, Contributions.to(made, kept))


def _is_loud(item: Ingredient) -> bool:
    """Whether practice counts it among the loud; what the house smokes nobody has counted."""
    return SMOKE in item.character or load_counts().most_ml(item.key) is not None


def on_hand(made: Assessment, bar: Bar, gone: Collection[str] = ()) -> tuple[Ingredient, ...]:
    """The stock that a spec does not pour, without the keys in `gone`."""
    own = {line.ingredient.key for line in made.lines}
    return tuple(
        row.ingredient
        for row in bar.stock
        if row.on_hand != 0 and row.ingredient.key not in own and row.ingredient.key not in gone
    )


def of_different_kinds(found: Sequence[Swap], most: int) -> tuple[Swap, ...]:
    """At most so many swaps, best first: the best of every kind before a second of any."""
    kinds: set[tuple[str, ...]] = set()
    first: list[Swap] = []
    rest: list[Swap] = []
    for each in found:
        kind = tuple(item.kind for item in each.instead)
        (rest if kind in kinds else first).append(each)
        kinds.add(kind)
    chosen = (first + rest)[:most]
    return tuple(each for each in found if each in chosen)


def _instead(found: Swap) -> dict[str, str]:
    return {out.key: item.key for out, item in zip(found.out, found.instead, strict=True)}


def worth_with(made: Assessment, bar: Bar) -> Callable[[Mapping[str, str]], float]:
    """A function of stand-ins, by the key that they replace, that returns the worth of the spec.

    What fits no part of its profile counts as little as can be.
    """
    if made.profile is None:
        return lambda _: 0.0
    stock = [row.ingredient for row in bar.stock]
    known = Known(made.profile, bar.bottles, load_counts(), taste_of(bar))
    harmony = Harmony(known, stock)

    def worth(instead: Mapping[str, str]) -> float:
        poured = {
            (line.part, instead.get(line.ingredient.key, line.ingredient.key))
            for line in made.lines
        }
        ingredients = harmony.ingredient_set(sorted(poured))
        return -math.inf if ingredients is None else harmony.evidence(ingredients).worth

    return worth


def made_of(item: Ingredient, other: Ingredient, bar: Bar) -> bool:
    """Whether a house ingredient is made of another of its kind, as an infused whiskey of
    whiskey."""
    return other.kind == item.kind and other.key in bar.inputs.get(item.key, ())


def _rank(found: Swap, less_usual: float, bar: Bar) -> tuple[float, ...]:
    """Where a swap stands among others; `less_usual` is what its worth falls short of the best."""
    result = found.result
    pairs = list(zip(found.out, found.instead, strict=True))
    not_of_it = sum(not made_of(out, instead, bar) for out, instead in pairs)
    strain = result.excess + less_usual + sum(out.kind != item.kind for out, item in pairs)
    related = sum(strangeness(*pair) for pair in pairs)
    return (
        not (result.held or result.nearly), not_of_it, round(strain, 1), result.changed_pours,
        related, result.off,
    )  # fmt: skip
