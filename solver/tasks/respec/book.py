"""Rebalance the whole spec book after a change: which specs stay, change, or are lost."""

from __future__ import annotations

import enum
import time
from dataclasses import dataclass, replace
from pathlib import Path

from solver.clock import Clock, Work
from solver.drinks.assess import Assessment, assess
from solver.errors import BadInput, BadInputs, Unproven
from solver.files.checked import gather
from solver.pantry.bar import Bar
from solver.pantry.ingredient import Ingredient
from solver.pantry.spec import Spec, read_specs
from solver.pantry.spec_file import write_specs
from solver.pantry.stocked import Stocked
from solver.search.milp.backend import Backend
from solver.tasks.respec.bar_changes import BarChanges
from solver.tasks.respec.held_ranges import HeldRanges, fits, held_ranges
from solver.tasks.respec.line_changes import LineChange
from solver.tasks.respec.named_beside import named_beside
from solver.tasks.respec.rebalanced import Rebalanced
from solver.tasks.respec.repour import SECONDS, nearest_within, rebalance
from solver.tasks.respec.slots import Slot, scaled_slots
from solver.tasks.respec.substitutes import on_hand, ranked


@enum.unique
class State(enum.StrEnum):
    """The outcome for a spec."""

    UNCONCERNED = "not concerned"
    NEVER_APPROVED = "never approved"
    """Nothing says what it was, so that nothing can be said to have moved."""
    UNCHANGED = "unchanged"
    REBALANCED = "re-balanced"
    NEARLY = "nearly the same"
    """It cannot be what it was, but misses that by little, or with a finer jigger it would be."""
    BY_HAND = "by hand"
    """Its pours stay, but its garnish, steps or notes name what is gone."""
    LOST = "cannot be saved"
    UNDECIDED = "not known"
    """The time was up before it was proven what becomes of it, or which stand-in is best."""


@dataclass(frozen=True)
class BookEntry:
    """A spec of the book; `result` is None if nothing had to be done, nothing stands in, or nothing
    is known.

    `out` are ingredients it pours that are gone, or too little of which is left for one drink;
    `named` those that are gone and that its garnish, steps or notes name.
    """

    spec: Spec
    state: State
    result: Rebalanced | None = None
    out: tuple[Ingredient, ...] = ()
    named: tuple[Ingredient, ...] = ()


@dataclass(frozen=True)
class Book:
    """Every spec of a bar in the order of their files, the changes, and the time taken in seconds.

    `past` are poured ingredients of which the shelf has only some past its last day.
    """

    changes: BarChanges
    entries: tuple[BookEntry, ...]
    seconds: float = 0.0
    past: tuple[Stocked, ...] = ()

    def of(self, state: State) -> tuple[BookEntry, ...]:
        """The specs with an outcome."""
        return tuple(entry for entry in self.entries if entry.state is state)


def rebalance_book(
    bar: Bar, changes: BarChanges, backend: Backend, clock: Clock | None = None
) -> Book:
    """Rebalance every spec of the bar after `changes`.

    A spec is held to its approved values, or else to its values before the changes. The time is
    shared: each spec that has to be poured anew may take an equal part of what is left.

    Raises:
        BadInput, BadInputs: there is no bar, or a spec is wrong, with its line.
    """
    if bar.specs is None:
        remedy = "Make a folder with a bar.toml, or give one with --bar."
        raise BadInput("there is no bar with a spec book", remedy=remedy)
    started = time.monotonic()
    clock = clock or Clock.of(SECONDS)
    now = changes.at(bar)
    specs = read_specs(bar.specs)
    made: list[tuple[Assessment, Assessment]] = []
    mistakes: list[BadInput | BadInputs] = []
    for spec in specs:
        try:
            made.append((assess(spec, bar), assess(spec, now)))
        except (BadInput, BadInputs) as error:
            mistakes.append(error)
    gather(mistakes)
    known = [_as_it_is(before, after, changes, now) for before, after in made]
    entries: list[BookEntry] = []
    for (before, after), entry in zip(made, known, strict=True):
        clock.tell(Work.ITEMS, len(entries), len(specs))
        if entry is None:
            share = clock.unwatched.within(clock.left / known[len(entries) :].count(None))
            entry = _poured_anew(after, held_ranges(before, now), changes, now, backend, share)
        entries.append(_with_named(entry, changes, now))
    poured = {line.ingredient.key for before, _ in made for line in before.lines}
    past = tuple(row for row in now.past if row.ingredient.key in poured)
    return Book(changes, tuple(entries), time.monotonic() - started, past)


def _with_named(entry: BookEntry, changes: BarChanges, bar: Bar) -> BookEntry:
    """An entry with what is gone and is named beside its pours."""
    gone = changes.gone & named_beside(entry.spec, bar) if changes.gone else frozenset[str]()
    if not gone:
        return entry
    as_poured = entry.state in {State.UNCONCERNED, State.UNCHANGED}
    named = tuple(bar.bottles.find(key) for key in sorted(gone))
    return replace(entry, named=named, state=State.BY_HAND if as_poured else entry.state)


def _as_it_is(was: Assessment, made: Assessment, changes: BarChanges, bar: Bar) -> BookEntry | None:
    """The entry of a spec that need not be poured anew; None if it must be."""
    spec, kept, missing = made.spec, held_ranges(was, bar), _missing(made, changes, bar)
    if changes and not missing and not changes.concerns(made, bar):
        return BookEntry(spec, State.UNCONCERNED)
    if not changes and not missing and spec.approved is None:
        return BookEntry(spec, State.NEVER_APPROVED)
    if not missing and stays(made, kept):
        lines = tuple(LineChange(line, line) for line in made.lines)
        same = Rebalanced(made, made, kept, lines, held=True, compared=1)
        return BookEntry(spec, State.UNCHANGED, same)
    return None


def _poured_anew(
    made: Assessment,
    kept: HeldRanges,
    changes: BarChanges,
    bar: Bar,
    backend: Backend,
    clock: Clock,
) -> BookEntry:
    """The entry of a spec that must be poured anew."""
    spec, missing = made.spec, _missing(made, changes, bar)
    result: Rebalanced | None
    if missing:
        out = {item.key for item in missing}
        offered = on_hand(made, bar, changes.gone)
        found = ranked(out, made, kept, bar, backend, clock, offered=offered)
        result = found.best.result if found.best else None
        if found.untried:
            return BookEntry(spec, State.UNDECIDED)
    else:
        try:
            result = _same_bottles(made, kept, bar, backend, clock)
        except Unproven:
            return BookEntry(spec, State.UNDECIDED)
    return BookEntry(spec, _state(result), result, missing)


def _state(result: Rebalanced | None) -> State:
    """The outcome of a spec that had to be poured anew; without a `result`, nothing could be."""
    if result is None or result.after is None:
        return State.LOST
    if result.held:
        return State.REBALANCED
    return State.NEARLY if result.nearly or result.finer else State.LOST


def _same_bottles(
    made: Assessment, kept: HeldRanges, bar: Bar, backend: Backend, clock: Clock
) -> Rebalanced:
    """A spec poured anew from its own bottles.

    In a smaller glass all lines are scaled together, unless only other pours keep the drink.
    """
    lines = [Slot(at, line, (line.ingredient,)) for at, line in enumerate(made.lines)]
    if not kept.resized:
        return rebalance(lines, made, kept, bar, backend, clock, reasons=True)
    scaled = scaled_slots(made, kept)
    found = rebalance(scaled, made, kept, bar, backend, clock, reasons=True)
    other = None if found.held else nearest_within(lines, made, kept, (), bar, backend, clock)
    return other or found


def _missing(made: Assessment, changes: BarChanges, bar: Bar) -> tuple[Ingredient, ...]:
    """Poured ingredients that are gone, or too little of which is left for one drink."""
    found: dict[str, Ingredient] = {}
    for line in made.lines:
        stocked = bar.stocked(line.ingredient.key)
        left = stocked.on_hand if stocked else None
        if line.ingredient.key in changes.gone or (left is not None and left < line.amount):
            found[line.ingredient.key] = line.ingredient
    return tuple(found.values())


def stays(made: Assessment, kept: HeldRanges) -> bool:
    """Whether a drink, poured as it is, stays within its ranges and fits its glass."""
    return (kept.overfull or fits(made)) and not kept.moved(made.values)


def apply(book: Book, bar: Bar) -> tuple[Path, ...]:
    """Write every spec that was poured anew, all or none; return the paths.

    Approvals stay: the drink is held to them next time too.

    Raises:
        BadInput, BadInputs: a file can't be written, or is not what it was.
    """
    written = [
        (entry.result.after.spec, entry.spec.place)
        for entry in book.of(State.REBALANCED)
        if entry.result and entry.result.after and entry.spec.place
    ]
    if bar.root is not None:
        write_specs(written, bar.root)
    return tuple(place.path for _, place in written)
