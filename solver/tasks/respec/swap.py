"""Replace an ingredient of a spec, and pour the rest so that the drink stays within its ranges."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

from solver.clock import Clock
from solver.drinks.assess import Assessment, assess
from solver.errors import BadInput
from solver.pantry.avoidance import Against, Avoidance, all_against
from solver.pantry.bar import Bar
from solver.pantry.disclosure import Disclosure
from solver.pantry.ingredient import Ingredient
from solver.pantry.pour import Pour
from solver.pantry.spec import Spec
from solver.pantry.stocked import Stocked
from solver.printable import short
from solver.search.milp.backend import Backend
from solver.tasks.respec.cost_limit import CostLimit, cost_limit
from solver.tasks.respec.held_ranges import HeldRanges, held_ranges
from solver.tasks.respec.objections import Objection, in_notes, objections
from solver.tasks.respec.rebalanced import Rebalanced
from solver.tasks.respec.repour import SECONDS, cheapest, nearest_within, rebalance
from solver.tasks.respec.slots import Slot
from solver.tasks.respec.split_shares import nearer_first, read_shares
from solver.tasks.respec.substitutes import Swap, could_stand_in, on_hand, ranked, replaced


@dataclass(frozen=True)
class Swaps:
    """What a spec can be poured with, best first.

    Nothing is `found` where there are `objections`: something that stays in the drink, or is asked
    for, holds what the guest avoids. `left_out` may not stand in since too little is known of it,
    `past` since its last day is over. `avoided` is what the guest's words leave out. Of `untried`
    more it is not known whether they are better, as the time was up. `cost` is the most that the
    drink may cost: where that is not kept, what is found is the cheapest that stays what it was,
    or the closest where nothing does. `split` are the shares that a split was to have: where the
    drink stays what it was, and is not the cheapest, none nearer to them does.
    """

    found: tuple[Swap, ...]
    avoided: tuple[Avoidance, ...] = ()
    objections: tuple[Objection, ...] = ()
    left_out: tuple[Ingredient, ...] = ()
    past: tuple[Stocked, ...] = ()
    untried: int = 0
    cost: CostLimit | None = None
    split: tuple[float, ...] = ()

    @property
    def at_shares(self) -> bool:
        """Whether a split is poured exactly at its shares."""
        best = self.best
        if best is None or best.result.after is None:
            return False
        keys = [item.key for item in best.instead]
        lines = [line for line in best.result.after.lines if line.ingredient.key in keys]
        total = sum(line.amount for line in lines)
        return all(
            abs(line.amount - self.split[keys.index(line.ingredient.key)] * total) < 1e-6 * total
            for line in lines
        )

    @property
    def best(self) -> Swap | None:
        """The best that was tried; None if there is none."""
        return self.found[0] if self.found else None


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
    """The spec with `out` replaced by `instead`, or by each stand-in of the shelf, best first.

    `unwanted` are ingredients, kinds and what a guest avoids: the whole drink is without them.

    Raises:
        BadInput, BadInputs: the spec is wrong, does not pour `out`, or a word is not known.
        Unproven: the time was up for `instead`.
    """
    clock = clock or Clock.of(SECONDS)
    made = assess(spec, bar)
    line = poured(out, made, bar)
    words = tuple(each for text in unwanted for each in bar.avoidable.each_word(text))
    named = None if instead is None else bar.bottles.said(instead)
    refused = _refused(made, line, () if named is None else (named,), words, bar)
    if refused is not None:
        return refused
    kept, key = held_ranges(made, bar), line.ingredient.key
    if named is not None:
        one = replaced({key: named}, made, kept, bar, backend, clock, reasons=True)
        return Swaps((one,), words)
    there = could_stand_in(line, made, kept, on_hand(made, bar))
    against = {item.key: all_against(bar.told_of(item), words) for item in there}
    offered = [item for item in there if not against[item.key]]
    best = ranked({key}, made, kept, bar, backend, clock, offered=offered)
    gone = could_stand_in(line, made, kept, (row.ingredient for row in bar.past))
    return Swaps(
        best.found,
        words,
        left_out=tuple(item for item in there if against[item.key] == {Against.NOT_KNOWN}),
        past=tuple(row for row in bar.past if row.ingredient in gone),
        untried=best.untried,
    )


def split(
    spec: Spec,
    bar: Bar,
    out: str,
    among: str,
    backend: Backend,
    *,
    clock: Clock | None = None,
    unwanted: Sequence[str] = (),
    cost: str | None = None,
) -> Swaps:
    """The spec with `out` split among ingredients like "rye-whiskey + apple-brandy".

    Their total is that of the line before; it is split as equally as keeps the drink within its
    ranges, or as near as that allows to stated shares: "2/3 rye-whiskey + apple-brandy". `unwanted`
    as in `swap`; `cost` is an upper limit like "<=2.60" or "12% below now".

    Raises:
        BadInput, BadInputs: as `swap`; or they cannot share what there was, or have no price.
        Unproven: the time was up.
    """
    made = assess(spec, bar)
    line = poured(out, made, bar)
    names, shares = read_shares(among)
    fillers = _several(names, among, line, bar)
    words = tuple(each for text in unwanted for each in bar.avoidable.each_word(text))
    refused = _refused(made, line, fillers, words, bar)
    if refused is not None:
        return refused
    keys = {item.key for item in fillers} | {line.ingredient.key}
    total = sum(each.amount for each in made.lines if each.ingredient.key in keys)
    slots = [
        Slot(at, each, fillers, total, shares=shares)
        if each is line
        else Slot(at, each, (each.ingredient,))
        for at, each in enumerate(made.lines)
        if each is line or each.ingredient.key not in keys
    ]
    most = None if cost is None else cost_limit(cost, made, fillers, bar)
    clock = clock or Clock.of(SECONDS)
    result, most = _within_cost(most, slots, made, held_ranges(made, bar), bar, backend, clock)
    if result.after is None:
        what = f"{short(among)} cannot share {total:.4g} {line.ingredient.unit}"
        why = f"no pours of {bar.pour_set.name} add up to that, in the glass"
        raise BadInput(what, why=why, remedy="Choose a finer pour set, or a larger glass.")
    return Swaps((Swap((line.ingredient,), fillers, result),), words, cost=most, split=shares)


def _within_cost(
    most: CostLimit | None,
    slots: Sequence[Slot],
    made: Assessment,
    kept: HeldRanges,
    bar: Bar,
    backend: Backend,
    clock: Clock,
) -> tuple[Rebalanced, CostLimit | None]:
    """The slots filled within the ranges and the cost limit, as near to the shares of the split as
    possible; else the cheapest within the ranges; else the closest."""
    limits = () if most is None else (most.limit,)
    for near in nearer_first(slots, bar):
        found = nearest_within(near, made, kept, limits, bar, backend, clock)
        if found is not None:
            return found, None if most is None else replace(most, kept=True)
    if most is not None:
        least = cheapest(slots, made, kept, bar, backend, clock)
        if least is not None:
            return least, most
    return rebalance(slots, made, kept, bar, backend, clock, reasons=True), most


def _refused(
    made: Assessment,
    line: Pour,
    asked: Sequence[Ingredient],
    words: Sequence[Avoidance],
    bar: Bar,
) -> Swaps | None:
    """The answer if what stays in the drink, or is asked for, is avoided or past its last day; else
    None."""
    parts = [*_staying(made, line, bar), *((item.name, bar.told_of(item)) for item in asked)]
    against = objections(parts, words)
    past = tuple(row for item in asked if (row := bar.past_row(item.key)) is not None)
    return Swaps((), tuple(words), against, past=past) if against or past else None


def _staying(made: Assessment, line: Pour, bar: Bar) -> Iterator[tuple[str, Disclosure]]:
    """Yield what stays in a drink without one of its ingredients, by name."""
    for each in made.lines:
        if each.ingredient.key != line.ingredient.key:
            yield each.ingredient.name, bar.told_of(each.ingredient)
    if made.spec.garnish:
        yield "its garnish", bar.mentions.garnish(made.spec.garnish)
    yield from in_notes(made.spec, bar)


def poured(text: str, made: Assessment, bar: Bar) -> Pour:
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


def _several(names: Sequence[str], among: str, line: Pour, bar: Bar) -> tuple[Ingredient, ...]:
    """The ingredients of a split.

    Raises:
        BadInput: one is not known, given twice, alone, or measured in another unit.
    """
    found = [bar.bottles.said(name) for name in names]
    unlike = [item for item in found if item.per != line.ingredient.per]
    if len({item.key for item in found}) < max(2, len(found)) or unlike:
        what = f"'{short(among)}' does not split {line.ingredient.name}"
        why = f"{unlike[0].name} is measured in {unlike[0].unit}" if unlike else ""
        raise BadInput(what, why=why, remedy="Write it like 'rye-whiskey + apple-brandy'.")
    return tuple(found)
