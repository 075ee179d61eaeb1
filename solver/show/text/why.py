"""Why an answer is what it is, or why there is none, in lines."""

from __future__ import annotations

from collections.abc import Sequence

from solver.drinks.answer import Answer
from solver.measures import Measure
from solver.pantry.bar import Bar
from solver.pantry.profile import Profile
from solver.requests.crossed_bounds import crossed_bounds
from solver.requests.demands import STRUCTURE, Demand, DemandKind
from solver.requests.leaves import garnish_with
from solver.requests.origin import From
from solver.requests.read_character import tastes_of
from solver.requests.request import ComparedStep
from solver.show.text.crossing import crossing_line, past_lines, way_beyond
from solver.show.text.guest import DEFERS, told_words
from solver.show.text.limits import measured_words
from solver.show.text.pours import said_amount
from solver.show.text.target import names_steps, target_briefly
from solver.show.text.way_out import way_said
from solver.show.words.names_in_a_row import listed, one_of
from solver.tasks.ways_out import WayOut
from solver.tasks.why import Reason, Why

WORTH_SAYING = 0.1
"""Noticeable differences, or shares of another goal's step, that a limit has to cost to be named
beside a drink."""
MORE_TIME = "try --why, or a longer --time-limit."
STEPS = "A step is what half of all tasters would notice."
WISHES = frozenset({DemandKind.WITH, DemandKind.POUR, DemandKind.SHOWN, DemandKind.CHARACTER})
"""What is asked for, and what somebody would be told of only with every limit."""
AVOIDED = frozenset({DemandKind.WITHOUT, DemandKind.NO_CHARACTER})
"""What somebody does without."""
MOST_BESIDE = 2
"""Limits that are named beside a drink; `--why` has all."""


def beside_lines(why: Why, answer: Answer, bar: Bar) -> list[str]:
    """What holds a drink back, in a line or two."""
    costly = [reason for reason in _binding(why) if _worth_saying(why, reason)]
    if costly:
        said = [
            f"{reason.demand.name}; {_gained(why, reason, answer, bar)}"
            for reason in costly[:MOST_BESIDE]
        ]
        lines = [f"Held back: {each}." for each in said]
        return [*lines, *([_not_everything(why)] if why.undecided else [])]
    if why.undecided:
        return [f"There was no time to tell what holds it back: {MORE_TIME}"]
    return []


def answer_lines(why: Why, answer: Answer, bar: Bar) -> list[str]:
    """Every demand: what holds the drink back and what that costs, and what does not."""
    binding = [*_binding(why), *(r for r in why.reasons if r.binding and r.worth is None)]
    lines = ["What holds it back:"] if binding else []
    lines += [
        f"  {reason.demand.name}: {_gained(why, reason, answer, bar)}{_until(reason, bar)}"
        for reason in binding
    ]
    if not binding and not why.undecided:
        lines = ["Nothing that was asked holds it back."]
    slack = [reason for reason in why.reasons if reason.binding is False]
    if slack:
        lines += ["", "What does not:"]
        lines += [f"  {reason.demand.name}{_to_spare(reason, bar)}" for reason in slack]
    open_ = [reason for reason in why.reasons if reason.binding is None]
    if why.undecided:
        short = "It was stopped" if why.interrupted else "There was no time"
        lines += ["", f"{short} before all of it could be told{':' if open_ else '.'}"]
        lines += [f"  {reason.demand.name}" for reason in open_]
    return [line for at, line in enumerate(lines) if line or at]


def impossible_lines(
    why: Why, profile: Profile, demands: Sequence[Demand], bar: Bar,
    steps: Sequence[ComparedStep] = (),
) -> list[str]:  # fmt: skip
    """The conflicts, and what would make the request possible; `steps` are its comparisons."""
    both = crossed_bounds(demands)
    lines = conflict_lines(why.conflicts, profile.name, bar, profile, steps)
    if both is not None and not any(map(crossed_bounds, why.conflicts)):
        lines = ["", crossing_line(*both, profile.name, bar), *lines]
    if any(why.conflicts) and not (why.complete or why.ways_out):
        lines += ["", "Other limits may stand in the way too."]
    if why.ways_out:
        told = list(_told(why))
        past = way_beyond(told, both[0]) if both else None
        nearest = past_lines(past, profile.technique, bar) if past else []
        ways = [
            f"  {way_said(way, bar)}: {short_spec(way.answer, bar)}"
            for way in told
            if way is not past
        ]
        lines += ["", *nearest] if nearest else []
        lines += ["", "It would be possible", *ways] if ways else []
        noticed = [STEPS] if any(map(names_steps, [*nearest, *ways])) else []
        lines += ["", *([] if past else _beyond(why)), *noticed, DEFERS]
    elif why.conflicts and not why.undecided:
        # A spec is poured of what is there: what to buy is not looked for.
        what = "with what is on the shelf" if profile.of_spec else "and no few purchases"
        lines += ["", f"No single change, {what}, would make it possible."]
    if why.undecided:
        lines += ["", _not_everything(why)]
    return [line for at, line in enumerate(lines) if line or at]


def conflict_lines(
    conflicts: Sequence[Sequence[Demand]], of: str, bar: Bar, profile: Profile | None = None,
    steps: Sequence[ComparedStep] = (),
) -> list[str]:  # fmt: skip
    """What cannot hold, or not together; `of` names the `profile`, where it is a single one, and
    `steps` are what is asked by comparison."""
    lines: list[str] = []
    for demands in conflicts:
        if not demands:
            lines += ["", f"More than one thing that {one_of(of)} needs is not on the shelf."]
            continue
        if len(demands) == 1 and (said := _alone(demands[0], of, bar, profile, steps)):
            lines += ["", said]
            continue
        if (both := crossed_bounds(demands)) is not None:
            lines += ["", crossing_line(*both, of, bar)]
            continue
        lines += (
            ["", "These cannot hold together:"] if len(demands) > 1 else ["", "This cannot be:"]
        )
        lines += [f"  {demand.name}" for demand in demands]
    return lines


def _told(why: Why) -> Sequence[WayOut]:
    """The ways out worth telling: one that leaves a part empty, a flip without egg, is another
    drink, and told only where every other gives a guest what they avoid."""
    same = [way for way in why.ways_out if not _emptied(way)]
    real = (all(change.demand.kind not in AVOIDED for change in way.changes) for way in same)
    return same if any(real) else why.ways_out


def _emptied(way: WayOut) -> bool:
    parts = {
        change.demand.subject for change in way.changes if change.demand.kind is DemandKind.COUNT
    }
    return bool(parts - {pour.part for pour in way.answer.pours})


def _not_everything(why: Why) -> str:
    """That not all of the reasons are known."""
    if why.interrupted:
        return "Stopped before everything was looked at: there may be more in the way."
    return f"There was no time to look at everything: {MORE_TIME}"


def _beyond(why: Why) -> list[str]:
    """How to ask for what a profile's own limit stands against."""
    moved = [change.demand for way in why.ways_out for change in way.changes]
    own = (d.measure for d in moved if d.measure and d.origin.kind in {From.PROFILE, From.SPEC})
    names = dict.fromkeys(f"--beyond {measure.name}" for measure in own)
    if len(names) > 1:
        return [f"Each of these limits gives way to an option: {', '.join(names)}."]
    return [f"To pour beyond that limit, add {name}." for name in names]


def _alone(
    demand: Demand, of: str, bar: Bar, profile: Profile | None, steps: Sequence[ComparedStep]
) -> str:
    """What a demand that cannot be kept at all comes to, where there is more to say of it."""
    if demand.kind is DemandKind.COUNT:
        return f"The shelf has no {demand.subject} for {one_of(of)}."
    tags = (
        demand.measure.tags if demand.measure and demand.kind is DemandKind.LEAST else demand.tags
    )
    if tags and not any(tastes_of(row.ingredient, tags) for row in bar.stock):
        return f"Nothing on the shelf has it: {demand.name}."
    if demand.kind is DemandKind.CHARACTER:
        return f"Nothing on the shelf that has it goes into such a drink: {demand.name}."
    if demand.kind is DemandKind.WITH and bar.stocked(demand.subject) is None:
        return f"It is not on the shelf: {demand.name}."
    if demand.kind is DemandKind.WITH and (row := bar.past_row(demand.subject)) is not None:
        return f"Its last day was {row.use_by}: {demand.name}."
    if demand.kind is DemandKind.WITH and (row := bar.waiting_row(demand.subject)) is not None:
        return f"It has to stand until {row.ready}: {demand.name}."
    if demand.kind is DemandKind.WITH and profile is not None:
        item = bar.bottles.find(demand.subject)
        if laid_in := garnish_with(item.key, profile, bar):
            return f"A {of} has its {item.name} by its garnish, {laid_in}: {demand.name}."
        if not any(part.accepts(item) for part in profile.parts):
            words = " ".join(["check any --with", item.key, *(step.option for step in steps)])
            others = f"`equipour {words}` asks every other"
            return f"No part of the profile {of} takes {item.name}: {others}."
    return ""


def short_why(why: Why, bar: Bar) -> list[str]:
    """The first conflict and the first way out, a line each."""
    lines = []
    if why.conflicts:
        named = listed(d.name for d in why.conflicts[0] if d.kind not in STRUCTURE)
        named = named or listed(d.name for d in why.conflicts[0])
        lines.append(f"reason: {named}")
    if why.ways_out:
        way = _told(why)[0]
        lines.append(f"possible {way_said(way, bar)}: {short_spec(way.answer, bar)}")
    return lines


def short_spec(answer: Answer, bar: Bar) -> str:
    """The pours of a drink in a line, how it stands to its aims, and its allergens."""
    said = ", ".join(f"{said_amount(p, bar)} {p.ingredient.name}" for p in answer.pours)
    told = told_words(answer.guest.told)
    return f"{said} ({'; '.join([target_briefly(answer.values, answer.aims), *told])})"


def _binding(why: Why) -> list[Reason]:
    """What binds, the costliest first."""
    binding = [reason for reason in why.reasons if reason.binding and reason.worth]
    return sorted(binding, key=lambda reason: -_gain(why, reason))


def _gain(why: Why, reason: Reason) -> float:
    return (why.value or 0.0) - (reason.worth.dropped if reason.worth else 0.0)


def _worth_saying(why: Why, reason: Reason) -> bool:
    """Whether somebody would want to be told of it: what was wished for they know."""
    if reason.worth and reason.worth.instead:
        return not _wished(reason.demand)
    return _gain(why, reason) >= WORTH_SAYING * (1.0 if why.goal is None else why.goal.step)


def _wished(demand: Demand) -> bool:
    """Whether somebody asks for it to be there."""
    measure = demand.measure
    return demand.kind in WISHES or bool(
        measure and measure.tags and demand.kind is DemandKind.LEAST
    )


def _instead(other: Answer, answer: Answer) -> str:
    """What another drink pours instead of what this one does."""
    own = {item.key for item in answer.ingredients}
    others = {item.key for item in other.ingredients}
    new = listed(item.name for item in other.ingredients if item.key not in own)
    old = listed(item.name for item in answer.ingredients if item.key not in others)
    if new and old:
        return f"{new} instead of {old}"
    return f"{new} too" if new else f"no {old}"


def _gained(why: Why, reason: Reason, answer: Answer, bar: Bar) -> str:
    """What one step more of a demand, or doing without it, would bring."""
    demand, worth = reason.demand, reason.worth
    if worth is None:
        return "not known what that costs"
    if worth.instead is not None:
        return f"without that, {_instead(worth.instead, answer)}"
    now = _value(why.goal, why.value or 0.0, bar)
    if demand.measure is None or worth.stepped is None or worth.step is None:
        if _value(why.goal, worth.dropped, bar) == now:
            return "without that, hardly better"
        return f"without that, {_goal(why.goal, worth.dropped, bar)}, not {now}"
    sign = 1.0 if demand.kind is DemandKind.MOST else -1.0
    bound = measured_words(demand.measure, demand.bound + sign * worth.step, bar.currency)
    if worth.stepped >= (why.value or 0.0) - 5e-3:
        end = measured_words(demand.measure, worth.until or 0.0, bar.currency)
        return f"only at {end} would it be {_goal(why.goal, worth.dropped, bar)}"
    return f"at {bound}, {_goal(why.goal, worth.stepped, bar)}, not {now}"


def _until(reason: Reason, bar: Bar) -> str:
    """Where loosening stops to help."""
    demand, worth = reason.demand, reason.worth
    if demand.measure is None or worth is None or worth.until is None:
        return ""
    return f"; helps as far as {measured_words(demand.measure, worth.until, bar.currency)}"


def _to_spare(reason: Reason, bar: Bar) -> str:
    if reason.demand.measure is None or reason.slack is None:
        return ""
    return f": {measured_words(reason.demand.measure, reason.slack, bar.currency)} to spare"


def _goal(goal: Measure | None, value: float, bar: Bar) -> str:
    said = _value(goal, value, bar)
    return f"off aim by {said}" if goal is None else f"{goal.label} {said}"


def _value(goal: Measure | None, value: float, bar: Bar) -> str:
    return f"{value:.2f}" if goal is None else measured_words(goal, value, bar.currency)
