"""The lines of a spec as slots to fill, and the problem that they pose."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

from solver.drinks.assess import Assessment
from solver.pantry.bar import Bar
from solver.pantry.defaults import load_defaults
from solver.pantry.ingredient import Ingredient
from solver.pantry.pour import Pour
from solver.pantry.profile import Part, Stage
from solver.pantry.spec import Spec, SpecPour
from solver.quantities import PourSpan, Unit
from solver.requests.request import curve_of
from solver.search.problem import Candidate, Drink, PartRule, PouredBefore, Problem
from solver.search.tolerances import SAME_POUR
from solver.tasks.respec.held_ranges import HeldRanges
from solver.tasks.respec.similarity import Contributions
from solver.tasks.save import written_amount

ROUND = 2.0
"""How many times as much, or as little, may be poured where no profile says: our own choice."""
STRONGER, ABOUT = 1.75, 1.25
"""How many times as strong something is that is poured by its strength and not by the amount of
what it replaces, as espresso for coffee; and how much more of it than like for like at most: our
own choice."""
FURTHER = 3.0
"""How many times as much, or as little, may be poured of what cannot be measured within `ROUND`:
our own choice."""
LATER = 0.5
"""What changes of pours that move after the first count more than the same number of those that
move first, however many lines there are: less than a change, so that fewest changes come first."""
FAR = 0.25
"""Share of a scaled pour by which it is not rounded, so that the drink is made of the same things
and not only as sweet: our own choice, a step of a quarter ounce in an ounce."""


@dataclass(frozen=True)
class Slot:
    """Line `at` of a spec, and what may be poured there.

    `fillers` are its own ingredient, or what stands in for it. With `total`, all fillers are poured
    and add up to it. `more` is what the line may take over from one that is left out. `shares` are
    those of the fillers in the total, and `most_off` is the largest deviation from them. Amounts
    are in the unit of the line's ingredient. With `times`, the line is scaled by a factor between
    its two values, to the next measurable amount below or above.
    """

    at: int
    line: Pour
    fillers: tuple[Ingredient, ...]
    total: float | None = None
    more: float = 0.0
    times: tuple[float, float] | None = None
    shares: tuple[float, ...] = ()
    most_off: float = math.inf

    def within(self, most_off: float) -> Slot:
        """The same slot with another largest deviation from the shares."""
        return replace(self, most_off=most_off)

    def span(self, item: Ingredient, total: float) -> PourSpan:
        """The range of a filler in a split with this total."""
        share = self.shares[self.fillers.index(item)] if self.shares else 0.0
        low, high = share * total - self.most_off, share * total + self.most_off
        ends = (max(0.0, low), min(total, high)) if self.shares else (0.0, total)
        return PourSpan(*ends, Unit(item.per), "")


@dataclass(frozen=True)
class FilledSlot:
    """A slot and its pour."""

    slot: Slot
    pour: Pour


@dataclass(frozen=True)
class SlotProblem:
    """The problem of filling slots, without limits and aims, and the ingredients of its
    candidates."""

    problem: Problem
    slots: tuple[Slot, ...]
    fillers: Mapping[tuple[int, str], Ingredient]
    """By part and name of a candidate."""

    @property
    def unmeasured(self) -> tuple[Ingredient, ...]:
        """What fills slots for which there is no amount of anything."""
        filled = {part for part, _ in self.fillers}
        slots = (slot for part, slot in enumerate(self.slots) if part not in filled)
        return tuple(item for slot in slots for item in slot.fillers)

    def poured(self, problem: Problem, drink: Drink, made: Assessment) -> tuple[FilledSlot, ...]:
        """The slots with the pours of a drink, in the order of the lines.

        `problem` may have fewer candidates than this one.
        """
        found: list[FilledSlot] = []
        for index, position in drink:
            each = problem.candidates[index]
            item, slot = self.fillers[each.part, each.ingredient], self.slots[each.part]
            found.append(FilledSlot(slot, poured_in(slot, item, each.amounts[position], made)))
        return tuple(sorted(found, key=lambda filled: filled.slot.at))


def slot_problem(
    slots: Sequence[Slot], made: Assessment, contributions: Contributions, bar: Bar
) -> SlotProblem:
    """The problem of filling every slot, with the technique of the spec."""
    candidates: list[Candidate] = []
    rules: list[PartRule] = []
    fillers: dict[tuple[int, str], Ingredient] = {}
    poured = {line.ingredient.key: line for line in made.lines}
    named: set[str] = set()
    for part, slot in enumerate(slots):
        count = 1 if slot.total is None else len(slot.fillers)
        rules.append(PartRule(slot.line.ingredient.key, count, count, slot.total, slot.total))
        counts = 1.0 if moves(slot, made) == "first" else 1 + LATER / (1 + len(slots))
        for item in slot.fillers:
            amounts = _amounts(item, slot, made, contributions, bar)
            if not amounts:
                continue
            # The search pours nothing twice; a spec may.
            name = item.key if item.key not in named else f"{item.key} in {part}"
            named.add(name)
            fillers[part, name] = item
            own = slot.line if item.key == slot.line.ingredient.key else poured.get(item.key)
            stocked = bar.stocked(item.key)
            candidates.append(
                Candidate(
                    ingredient=name,
                    part=part,
                    amounts=amounts,
                    composition=tuple(float(x) for x in item.composition()),
                    cost=stocked.price_per_unit if stocked else None,
                    top=slot.line.top,
                    before=_poured_before(item, own, slot, counts, contributions, bar),
                )
            )
    problem = Problem(
        tuple(candidates), tuple(rules), curve_of(made.technique, bar), equal=_equal(slots, made)
    )
    return SlotProblem(problem, tuple(slots), fillers)


def _equal(slots: Sequence[Slot], made: Assessment) -> frozenset[int]:
    """The slots that must have equal amounts: the profile says so, and they have them now."""
    names = made.profile.equal if made.profile else ()
    alike = [at for at, slot in enumerate(slots) if slot.line.part in names]
    amounts = [slots[at].line.amount for at in alike]
    if len(alike) < 2 or max(amounts) - min(amounts) > SAME_POUR * max(amounts):
        return frozenset()
    return frozenset(alike)


def scaled_slots(made: Assessment, kept: HeldRanges) -> list[Slot]:
    """The lines of a spec, scaled by the ratio of the wanted to the present volume."""
    volume, was_ml = kept.aims[-1], made.values["volume"] or 1.0
    ends = (volume.value - volume.tolerance, volume.value + volume.tolerance)
    least, most = (max(0.0, end) / was_ml for end in ends)
    return [
        Slot(at, line, (line.ingredient,), times=(least, most))
        for at, line in enumerate(made.lines)
    ]


def step_of(item: Ingredient, bar: Bar) -> float:
    """One step of the tool that measures an ingredient, in the ingredient's own unit."""
    return bar.pour_set.step_of(item.tool, bar.measures, piece_ml=item.piece_ml)


def moves(slot: Slot, made: Assessment) -> str:
    """When a slot's pour is changed, one of `MOVES`: as stated by its spec, else by the part of its
    profile, else by its kind."""
    stated = made.spec.pours[slot.at].moves
    if stated is not None:
        return stated
    part, profile = part_of(slot.line, made), made.profile
    if part is None or profile is None or profile.moves is None:
        return load_defaults().moves.of(slot.line.ingredient)
    return profile.moves.of(part.name)


def _poured_before(
    item: Ingredient,
    own: Pour | None,
    slot: Slot,
    counts: float,
    contributions: Contributions,
    bar: Bar,
) -> PouredBefore:
    step = step_of(item, bar)
    if own is not None:
        return PouredBefore(own.amount, step, same=True, counts=counts)
    line = slot.line
    if item.per == line.ingredient.per:
        return PouredBefore(line.amount, step)
    return PouredBefore(
        contributions.like_for_like(line.ingredient, line.amount, item) or 0.0, step
    )


def _amounts(
    item: Ingredient, slot: Slot, made: Assessment, contributions: Contributions, bar: Bar
) -> tuple[float, ...]:
    """The amounts of a filler: those of the profile, or those around the present amount."""
    if slot.times is not None:
        return _scaled(item, slot, slot.times, made, bar)
    line, part = slot.line, part_of(slot.line, made)
    own = item.key == line.ingredient.key
    spans = [_around(item, slot, contributions)]
    if slot.total is not None:
        spans = [slot.span(item, slot.total)]
    elif part is not None and made.profile is not None and part.accepts(item) and not slot.more:
        spans.insert(0, made.profile.part_pours(part, bar.measures).each.traded)
    if own and slot.total is None and not slot.more and moves(slot, made) == "never":
        return (line.amount,)
    tool = part.tool if part and own else None
    measured = (bar.pour_set.amounts_of(item, span, bar.measures, tool) for span in spans)
    amounts = tuple(amount for amount in next(filter(None, measured), ()) if amount > 0)
    if not amounts and slot.total is None:
        amounts = _nearest(item, spans[-1], bar)
    if slot.more and max(amounts, default=0.0) * FURTHER < line.amount + slot.more:
        return ()  # dashes do not take over two ounces
    if not own or slot.total is not None:
        return amounts
    others = (amount for amount in amounts if abs(amount - line.amount) > SAME_POUR * line.amount)
    return tuple(sorted((*others, line.amount)))


def _scaled(
    item: Ingredient, slot: Slot, times: tuple[float, float], made: Assessment, bar: Bar
) -> tuple[float, ...]:
    """The measurable amounts of a scaled line, from next below the least to next above the most.

    Without those further than `FAR` from the middle, if any is nearer; only the nearest if the line
    usually never moves, and what is poured now if its spec says so.
    """
    if made.spec.pours[slot.at].moves == "never":  # as the spec itself says
        return (slot.line.amount,)
    low, high = (slot.line.amount * each for each in times)
    middle = (low + high) / 2
    every = PourSpan(0.0, math.inf, Unit(item.per), "")
    part = part_of(slot.line, made)
    amounts = bar.pour_set.amounts_of(item, every, bar.measures, part.tool if part else None)
    if not amounts:
        return ()
    if moves(slot, made) == "never":
        step = step_of(item, bar)
        return (min(amounts, key=lambda a: (round(abs(a - middle) / step, 1), -a)),)
    least = max((a for a in amounts if a <= low), default=amounts[0])
    most = min((a for a in amounts if a >= high), default=amounts[-1])
    found = tuple(amount for amount in amounts if least <= amount <= most)
    return tuple(a for a in found if abs(a - middle) <= FAR * middle) or found


def _nearest(item: Ingredient, span: PourSpan, bar: Bar) -> tuple[float, ...]:
    """The amount nearest to the middle of a span in which none can be measured: one egg, of which
    nobody pours a half. Empty if that is out of all proportion."""
    if not span.low:
        return ()
    middle = math.sqrt(span.low * span.high)
    wider = PourSpan(middle / FURTHER, middle * FURTHER, span.unit, "")
    amounts = bar.pour_set.amounts_of(item, wider, bar.measures)
    nearest = min(amounts, key=lambda amount: abs(math.log(amount / middle)), default=None)
    return () if nearest is None else (nearest,)


def _around(item: Ingredient, slot: Slot, contributions: Contributions) -> PourSpan:
    """From half to twice the present amount, the like-for-like amount included; of what is much
    stronger no more than is about like for like."""
    line = slot.line
    there = [line.amount, line.amount + slot.more] if item.per == line.ingredient.per else []
    like = contributions.like_for_like(line.ingredient, line.amount, item)
    if like is not None and there and like * STRONGER <= line.amount:
        return PourSpan(like / ROUND, like * ABOUT, Unit(item.per), "")
    there += [] if like is None else [like]
    low, high = (min(there), max(there)) if there else (0.0, 0.0)
    return PourSpan(low / ROUND, high * ROUND, Unit(item.per), "")


def part_of(line: Pour, made: Assessment) -> Part | None:
    """The part of its profile that a line fills; None if it fills none."""
    parts = made.profile.parts if made.profile else ()
    return next((part for part in parts if part.name == line.part), None)


def poured_in(slot: Slot, item: Ingredient, amount: float, made: Assessment) -> Pour:
    """A pour in a slot, in the spec's notation; an unchanged pour stays as written."""
    line, old = slot.line, made.spec.pours[slot.at]
    same = item.key == line.ingredient.key
    if same and abs(amount - line.amount) <= SAME_POUR * line.amount:
        return replace(line, part=old.part or "", stage=old.stage)
    part = part_of(line, made)
    tool = (part.tool if part and same else None) or item.tool
    stage = old.stage if same else _stage(old, line, item, made)
    return Pour(item, amount, tool, part=old.part or "", stage=stage)


def refilled(made: Assessment, filled: Sequence[FilledSlot], bar: Bar) -> Spec:
    """The spec with new pours in its slots, as its file will state it."""
    pours = tuple(_written(made.spec.pours[each.slot.at], each, bar) for each in filled)
    return made.spec.model_copy(update={"pours": pours})


def _written(old: SpecPour, filled: FilledSlot, bar: Bar) -> SpecPour:
    pour = filled.pour
    if pour.written is not None:
        return old
    amount = written_amount(pour.ingredient, pour.amount, pour.tool, bar)
    if pour.ingredient.key == filled.slot.line.ingredient.key:
        return old.model_copy(update={"amount": amount})
    return SpecPour(
        ingredient=pour.ingredient.key,
        amount=amount,
        part=pour.part or None,
        stage=pour.stage,
        moves=old.moves,
    )


def _stage(old: SpecPour, line: Pour, item: Ingredient, made: Assessment) -> Stage | None:
    """The stage to state in the spec: only if the profile would choose another for the new
    ingredient."""
    if line.top:
        return "top"
    parts = made.profile.parts if made.profile else ()
    topped = any(part.stage == "top" and part.accepts(item) for part in parts)
    return "first" if topped else old.stage
