"""A spec beside what it becomes: the parts that a swap and a whole spec book share."""

from __future__ import annotations

from collections.abc import Collection

from solver.drinks.assess import AimMet
from solver.measures import MEASURES, Measure
from solver.pantry.bar import Bar
from solver.search.problem import Limit
from solver.show.text.guest import guest_lines
from solver.show.text.pours import said_amount, said_name, said_place
from solver.show.words.names_in_a_row import listed
from solver.tasks.respec.consequences import Consequences
from solver.tasks.respec.held_ranges import KEPT, HeldRanges
from solver.tasks.respec.line_changes import LineChange
from solver.tasks.respec.rebalanced import Rebalanced

_ALSO = ("ethanol", "cost")
"""Measures that are told beside those that are held."""


WITHIN = "in strength, sugar, acid and volume, each within one noticeable difference"
"""How closely a drink is held to what it was."""


SEEN_ML = 1.5
"""What is less over a line nobody sees, who pours by hand: our own choice."""
SAME = (
    "Same strength, sugar, acid and volume, each within one noticeable difference; taste and "
    "texture are not compared."
)
"""What was compared of a drink that was kept."""


def kept_line(kept: HeldRanges) -> str:
    """What the drink is held to."""
    if kept.approved is None:
        was = "It was never approved: it is held to what it is now"
    else:
        was = f"Held to what it was when it was approved on {kept.approved}"
    glass = " Its volume follows the smaller glass." if kept.resized else ""
    over = " It goes over the line of its glass, as it did." if kept.overfull else ""
    return f"{was}, {WITHIN}.{over}{glass}{_spreading(kept)}"


def _spreading(kept: HeldRanges) -> str:
    """Why some ranges are wider: the drink is not always the same by itself."""
    if not kept.spreads:
        return ""
    said = listed(
        f"{measure.label} from {low:.{measure.decimals}f} to {high:.{measure.decimals}f} "
        f"{measure.unit}, so that {kept.tolerances[measure]:.1f} either way is not noticed"
        for measure, (low, high) in kept.spreads.items()
    )
    return f" Its own melt spreads {said}."


def pour_lines(found: Rebalanced, bar: Bar) -> list[str]:
    """The pours before and after, side by side."""
    lines = [f"  {'before':>12}  {'after':>12}"]
    for row in found.lines:
        was, now = (said_amount(side, bar) if side else "-" for side in (row.was, row.now))
        name = said_name(row.line.ingredient, found.before.technique)
        lines.append(f"  {was:>12}  {now:>12}  {name}{said_place(row.line)}")
    return lines


def measure_lines(found: Rebalanced, bar: Bar, asked: Collection[Measure] = ()) -> list[str]:
    """The measures as they must stay, before and after; `asked` are those that were to move."""
    first = "kept" if found.kept.approved is None else "approved"
    lines = [f"  {'':<9}{first:>10}{'before':>10}{'after':>10}"]
    after = found.after.values if found.after else {}
    moved = {met.aim.measure for met in found.moved}
    for aim in found.kept.aims:
        measure = aim.measure
        values = (aim.value, found.before.values[measure.name], after.get(measure.name))
        note = "  as asked" if measure in asked else "  moved" if measure in moved else ""
        lines.append(f"{_row(measure, values, measure.unit)}{note}")
    approved = found.before.spec.approved
    for measure in (MEASURES[name] for name in _ALSO):
        then: float | None = getattr(approved, measure.key) if approved else None
        also = (then, found.before.values[measure.name], after.get(measure.name))
        unit = bar.currency if measure.name == "cost" else measure.unit
        lines.append(_row(measure, also, unit))
    return lines


def _row(measure: Measure, values: tuple[float | None, ...], unit: str) -> str:
    cells = "".join(
        f"{'-' if value is None else f'{value:.{measure.decimals}f}':>10}" for value in values
    )
    return f"  {measure.label:<9}{cells} {unit}".rstrip()


def _beyond(met: AimMet) -> str:
    """How far a measure is from what it was, and to which side."""
    distance = met.distance or 0.0
    side = "more" if distance > 0 else "less"
    return f"{abs(distance):.2f} noticeable differences {side}"


def moved_words(met: AimMet) -> str:
    """A measure that moved, in a few words: "strength 16.6 instead of 18.2 % vol"."""
    measure = met.aim.measure
    now = "not known" if met.value is None else f"{met.value:.{measure.decimals}f}"
    return f"{measure.label} {now} instead of {met.aim.value:.{measure.decimals}f} {measure.unit}"


def verdict_lines(found: Rebalanced, bar: Bar) -> list[str]:
    """Whether it stays what it was, what is proven, and otherwise what cannot hold together."""
    if found.after is None:
        return [f"{impossible_words(found)}."]
    if found.held:
        return [f"{SAME} {fewest_line(found)} {proof_line(found)}".rstrip()]
    if found.nearly:
        return [nearly_line(found, bar), *finer_line(found, bar), proof_line(found)]
    lines = ["It cannot stay what it was. This is as close as these bottles come:"]
    lines += [f"  {moved_words(met)}, {_beyond(met)}" for met in found.moved]
    lines += [f"  {said}" for said in over_words(found)]
    lines += [f"{clash_words(each)}." for each in found.conflicts]
    lines += finer_line(found, bar)
    if found.undecided:
        lines.append("There was no time to tell all that stands in the way.")
    return [*lines, proof_line(found)]


def impossible_words(found: Rebalanced) -> str:
    """Why no drink comes of it: no sentence yet."""
    if found.unmeasured:
        return f"How much {listed(item.name for item in found.unmeasured)} would do is not known"
    return "Nothing that these bottles can pour fits the glass"


def finer_line(found: Rebalanced, bar: Bar) -> list[str]:
    """What a finer jigger would do, if anything."""
    if found.finer is None:
        return []
    pours = "; ".join(change_words(each, bar) for each in found.finer.result.changes)
    return [f"With --pour-set {found.finer.pour_set} it could: {pours or 'as it is'}."]


def nearly_line(found: Rebalanced, bar: Bar) -> str:
    """What to pour where a drink misses what it was by little, and what is other about it then."""
    poured = [each for each in found.changes if each.now]
    pours = listed(
        f"{said_amount(each.now, bar)} {each.line.ingredient.name}" for each in poured if each.now
    )
    moved = listed([*(_by_how_much(met) for met in found.moved), *over_words(found)])
    do = f"Pour {pours}" if pours else "Pour it as it is"
    return f"{do}: {moved}, otherwise the same."


def over_words(found: Rebalanced) -> list[str]:
    """That a drink goes over the line of its glass, and by how much where that can be seen."""
    if not found.over_line_ml or found.after is None:
        return []
    much = "a little" if found.over_line_ml < SEEN_ML else f"{found.over_line_ml:.0f} mL"
    return [f"{much} over the line of its {found.after.glass}"]


def _by_how_much(met: AimMet) -> str:
    """A measure that moved, as a guest would say it: "11 mL shorter"."""
    measure, by = met.aim.measure, (met.value or 0.0) - met.aim.value
    word = measure.more if by > 0 else measure.less
    return f"{abs(by):.{measure.decimals}f} {measure.unit} {word}"


def fewest_line(found: Rebalanced) -> str:
    """How many pours change, and that no fewer would do."""
    count = found.changed_pours
    if not count:
        return "No pour changes."
    if count == 1:
        return "1 pour changes; no smaller a change of it would do."
    return f"{count} pours change; no fewer would do, and no smaller a change of them."


def proof_line(found: Rebalanced) -> str:
    """What was compared, so that it is proven."""
    if found.compared is None:
        return f"Proven by {found.solver}."
    if found.compared == 1:
        return "Proven: there is no other way to pour these bottles."
    return f"Proven: all {found.compared:,} ways to pour these bottles were compared."


def clash_words(limits: tuple[Limit, ...]) -> str:
    """Limits that no drink keeps together, or one that none keeps."""
    what = "This cannot be held" if len(limits) == 1 else "These cannot hold together"
    return f"{what}: {limits_said(limits)}"


def limits_said(limits: tuple[Limit, ...]) -> str:
    """Limits in words, joined: "strength at least 17.2 % vol and volume at most 175 mL (coupe)"."""
    return listed(map(_limit_said, limits))


def _limit_said(limit: Limit) -> str:
    side, bound = ("least", limit.low) if limit.low is not None else ("most", limit.high)
    measure = limit.measure
    amount = f"{bound or 0.0:.{measure.decimals + 1}f}"
    origin = "" if limit.name == KEPT else f" ({limit.name})"
    return f"{measure.label} at {side} {amount} {measure.unit}".rstrip() + origin


def consequence_line(found: Consequences) -> str:
    """What a guest has to be told now that was not so before; said even where there is nothing."""
    gained = "; ".join(each.says for each in found.gained) or "nothing"
    lost = "; ".join(each.says for each in found.lost) or "nothing"
    return f"Allergens and animal origin: gained: {gained}; gone: {lost}."


def caution_words(found: Rebalanced) -> list[str]:
    """Cautions that come or go, each marked: "caution, new: Raw egg ..."."""
    return [
        *(f"caution, new: {each}" for each in found.cautions_gained),
        *(f"caution, gone: {each}" for each in found.cautions_lost),
    ]


def told_lines(found: Rebalanced) -> list[str]:
    """What a guest is told of the new drink, and before it what is new of that, and what is gone;
    empty where nothing can be poured."""
    if found.after is None:
        return []
    marked = {f"Caution: {each}": f"Caution, new: {each}" for each in found.cautions_gained}
    gone = [f"Caution, gone: {each}" for each in found.cautions_lost]
    lines = (marked.get(line, line) for line in guest_lines(found.after.guest))
    return [consequence_line(found.consequences), *gone, *lines]


def told_words(found: Consequences) -> str:
    """The same where it is worth a word: "gained: contains nuts; gone: contains milk", or ""."""
    sides = (("gained", found.gained), ("gone", found.lost))
    return "; ".join(
        f"{name}: {', '.join(each.says for each in told)}" for name, told in sides if told
    )


def change_words(change: LineChange, bar: Bar) -> str:
    """A changed pour in a few words: "2 oz to 2 1/4 oz rye whiskey"."""
    name = change.line.ingredient.name
    if change.now is None:
        return f"no {name}"
    was = f"{said_amount(change.was, bar)} to " if change.was else ""
    return f"{was}{said_amount(change.now, bar)} {name}"


def status_of(found: Rebalanced) -> str:
    """In one word: "kept", "moved" or "impossible"."""
    return "impossible" if found.after is None else "kept" if found.held else "moved"
