"""The spec book after a change, as a table."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence

from solver.measures import MEASURES
from solver.pantry.bar import Bar
from solver.show.text.guest import DEFERS, day_line
from solver.show.text.prep import changes_said
from solver.show.text.rebalanced import (
    WITHIN,
    caution_words,
    change_words,
    clash_words,
    finer_line,
    moved_words,
    nearly_line,
    over_words,
    told_words,
)
from solver.show.text.table import Cell, csv_table
from solver.show.words.names_in_a_row import listed
from solver.tasks.respec.book import Book, BookEntry, State
from solver.tasks.respec.outdated_recipes import Unstocked
from solver.tasks.respec.rebalanced import Rebalanced

_ORDER = (
    State.UNDECIDED, State.LOST, State.NEARLY, State.REBALANCED, State.BY_HAND,
    State.UNCHANGED, State.NEVER_APPROVED, State.UNCONCERNED,
)  # fmt: skip
_INDENT = " " * 19


def book_text(book: Book, bar: Bar, unstocked: Sequence[Unstocked] = ()) -> str:
    """A line for each spec, what cannot be saved first; below it what is worth knowing.

    `unstocked` are recipes that make something else by now than the drinks were poured with.
    """
    if not book.entries:
        return "The bar has no specs."
    said = "; ".join(book.changes.said) or "the shelf as it is, against what was approved"
    lines = [f"{said}:", ""]
    for state in _ORDER:
        for entry in book.of(state):
            lines += [*_entry(entry, bar), *_by_hand(entry)]
    counts = Counter(entry.state for entry in book.entries)
    total = ", ".join(f"{counts[state]} {state.value}" for state in _ORDER if counts[state])
    specs = "1 spec" if len(book.entries) == 1 else f"{len(book.entries)} specs"
    lines += ["", f"Of {specs}: {total}; {book.seconds:.2f} s."]
    if any(entry.result for entry in book.entries):
        unknown = counts[State.UNDECIDED]
        proven = f"proven for all but {unknown}" if unknown else "proven for every spec"
        lines.append(f"A drink is kept {WITHIN}, with the fewest changed pours; {proven}.")
        lines.append(DEFERS)
    if book.past:
        named = ", ".join(f"{row.ingredient.name} ({row.use_by})" for row in book.past)
        lines.append(f"Past its last day, so open a fresh one: {named}.")
    return "\n".join([*lines, *day_line(bar), *(f"\n{_edited(each)}" for each in unstocked)])


def _edited(found: Unstocked) -> str:
    """That a recipe says something else by now than what was poured here."""
    if found.wrong:
        return f"The recipe of {found.name} cannot be followed: {found.wrong}"
    moves = "; ".join(f"{each.spec} ({changes_said(each.noticed)})" for each in found.impacts)
    return (
        f"The recipe of {found.name} was edited, and nothing of it is in stock yet: above it is "
        f"poured as it was. Its next batch would move {moves}. When it is cooked: `equipour prep "
        f"{found.key} --stock`, then this again."
    )


def _entry(entry: BookEntry, bar: Bar) -> list[str]:
    head = f"  {entry.state.value:<17}{entry.spec.name}"
    if entry.state in {State.UNCONCERNED, State.NEVER_APPROVED, State.BY_HAND}:
        return [head]
    result = entry.result
    if entry.state is State.UNDECIDED:
        return [f"{head}: the time was up; try a longer --time-limit"]
    if entry.out:
        head += f": no {' and no '.join(item.name for item in entry.out)} left"
    if result is None:
        return [f"{head}, and nothing on the shelf can stand in"]
    if result.after is None:
        return [f"{head}: nothing that can be poured for it fits the glass"]
    if entry.state is State.UNCHANGED:
        return [head]
    pours = "; ".join(change_words(each, bar) for each in result.changes)
    told = () if result.nearly else (pours or "no other pours would help",)
    below = (
        *told,
        *_moves(entry.state, result, bar),
        *_told(result),
    )
    return [head, *(f"{_INDENT}{line}" for line in below)]


def _by_hand(entry: BookEntry) -> list[str]:
    """What is gone and stands in its texts, which nobody but the bar can change."""
    if not entry.named:
        return []
    names = listed([item.name for item in entry.named])
    return [f"{_INDENT}its garnish, steps or notes name {names}: change that by hand"]


def _moves(state: State, result: Rebalanced, bar: Bar) -> list[str]:
    """Where it would be with its old pours, or where it moves to all the same."""
    if state is State.REBALANCED:
        left = result.kept.moved(result.before.values)
        out = {line.ingredient.key for line in result.before.lines}
        new = {line.ingredient.key for line in result.after.lines} if result.after else set()
        if not left or out - new:
            return []
        return [f"poured as it was: {', '.join(map(moved_words, left))}"]
    if result.nearly:
        return [nearly_line(result, bar), *finer_line(result, bar)]
    lines = [f"even so: {', '.join([*map(moved_words, result.moved), *over_words(result)])}"]
    if result.finer is not None:
        return [*lines, *finer_line(result, bar)]
    return [*lines, *map(clash_words, result.conflicts)]


def _told(result: Rebalanced) -> list[str]:
    """What a guest must be told that was not so before, and what no longer, if a bottle changed."""
    if all(row.was and row.now for row in result.lines):
        return []
    told = told_words(result.consequences) or "nothing gained, nothing gone"
    return [f"allergens and animal origin: {told}", *caution_words(result)]


def book_csv(book: Book, bar: Bar) -> str:
    """What fits of a book, a line for each spec: what changes, and its measures after it."""
    heads = ("spec", "file", "state", "out", "changed_pours", "changes", "moved",
             *(MEASURES[name].key for name in _TOLD), "gained", "gone", "named")  # fmt: skip
    return csv_table(heads, (_row(entry, bar) for entry in (e for s in _ORDER for e in book.of(s))))


_TOLD = ("abv", "sugar", "acid", "volume", "cost")


def _row(entry: BookEntry, bar: Bar) -> tuple[Cell, ...]:
    result, origin = entry.result, entry.spec.origin
    first: tuple[Cell, ...] = (
        entry.spec.name,
        origin.name if origin else None,
        entry.state.value,
        ", ".join(item.key for item in entry.out),
    )
    named = ", ".join(item.key for item in entry.named)
    if result is None:
        return (*first, *[None] * (5 + len(_TOLD)), named)
    after = result.after.values if result.after else {}
    told = (result.consequences.gained, result.consequences.lost)
    return (
        *first,
        result.changed_pours,
        "; ".join(change_words(each, bar) for each in result.changes),
        "; ".join(map(moved_words, result.moved)),
        *(after.get(name) for name in _TOLD),
        *("; ".join(each.says for each in side) for side in told),
        named,
    )
