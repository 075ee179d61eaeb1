"""A swap, as people read it."""

from __future__ import annotations

import shlex

from solver.pantry.avoidance import Against
from solver.pantry.bar import Bar
from solver.quantities import show_volume
from solver.show.text.design import after_a_gap, left_out_lines
from solver.show.text.guest import day_line
from solver.show.text.pours import said_amount
from solver.show.text.rebalanced import (
    caution_words,
    change_words,
    impossible_words,
    kept_line,
    measure_lines,
    moved_words,
    pour_lines,
    proof_line,
    told_lines,
    told_words,
    verdict_lines,
)
from solver.tasks.respec.objections import Objection
from solver.tasks.respec.rebalanced import Rebalanced
from solver.tasks.respec.slots import STRONGER
from solver.tasks.respec.substitutes import LikeForLike, Swap, of_different_kinds
from solver.tasks.respec.swap import Swaps

_EVEN = 1e-6
MOST_SHOWN = 8
"""Stand-ins that are shown."""


def swap_text(swaps: Swaps, out: str, bar: Bar) -> str:
    """The best swap in full, and the others in a line each; `out` is what was to be replaced."""
    found, first = swaps.found, swaps.best
    also = [*left_out_lines(swaps, bar), *day_line(bar)]
    if first is None:
        return "\n".join([*_nothing(swaps, out), *also])
    result = first.result
    lines = [_heading(first), kept_line(result.kept), ""]
    if result.after is not None:
        lines += [*pour_lines(result, bar), "", *measure_lines(result, bar), ""]
    lines += [_like(each, bar) for each in first.like if _worth_a_word(each)]
    lines += _verdict(swaps, result, bar)
    lines += _with_water(first)
    lines += told_lines(result)
    others = of_different_kinds(found[1:], MOST_SHOWN - 1)
    if others:
        lines += ["", f"Of {len(found)} that could stand in, also, best first:"]
        lines += [_other(each, bar) for each in others]
    if swaps.untried:
        lines += ["", f"The time was up before {swaps.untried} more were settled: try a longer "]
        lines[-1] += "--time-limit. One of them may be better."
    return "\n".join([*lines, *after_a_gap(also)])


def _verdict(swaps: Swaps, result: Rebalanced, bar: Bar) -> list[str]:
    """Whether it stays what it was, and costs no more than it may."""
    cost = swaps.cost
    if cost is None:
        return [*_split_lines(swaps, result), *verdict_lines(result, bar)]
    asked = f"{cost.most:.2f}{f' {bar.currency}' if bar.currency else ''} or less"
    if cost.kept:
        said = f"It costs {asked}, as asked; it was {cost.now:.2f}."
        return [said, *_split_lines(swaps, result), *verdict_lines(result, bar)]
    if not result.held:
        return ["No ratio stays quite what it was, whatever it costs.", *verdict_lines(result, bar)]
    least = (result.after.values["cost"] if result.after else None) or 0.0
    no = f"No ratio costs {asked} and stays what it was."
    return [f"{no} The cheapest that does costs {least:.2f}. {proof_line(result)}"]


def _split_lines(swaps: Swaps, result: Rebalanced) -> list[str]:
    """That nothing nearer to the shares of a split keeps the drink, where that is proven."""
    if not swaps.split or not result.held or swaps.at_shares:
        return []
    even = max(swaps.split) - min(swaps.split) < _EVEN
    of_all = " and costs no more" if swaps.cost is not None else ""
    nearer = "more even" if even else "nearer to the shares that were asked for"
    return [f"No split that is {nearer} keeps the drink what it was{of_all}."]


def _nothing(swaps: Swaps, out: str) -> list[str]:
    """Why nothing is offered in place of `out`."""
    if swaps.untried:
        return [f"The time was up before anything that could stand in for {out} was settled."]
    if swaps.objections:
        lines = [f"Nothing is offered in place of {out}:"]
        return [*lines, *(f"  {objection_words(each)}" for each in swaps.objections)]
    if swaps.past:
        return [f"Nothing is offered in place of {out}."]
    return [
        f"Nothing on the shelf is known to stand in for {out}.",
        "Name what you would pour, and it is tried: equipour swap SPEC OUT IN.",
    ]


def objection_words(each: Objection) -> str:
    """What in a drink speaks against it for a guest."""
    if each.against is None:
        return f"{each.name} may add alcohol that no figure counts: write it as a pour"
    says = {
        Against.HOLDS: f"{each.name} holds what is left out for '{each.word}'",
        Against.MAY_HOLD: f"{each.name} may hold what is left out for '{each.word}'",
        Against.NOT_KNOWN: f"of {each.name} too little is known for '{each.word}'",
    }
    return says[each.against]


def _heading(found: Swap) -> str:
    instead = " and ".join(item.name for item in found.instead)
    out = " and ".join(item.name for item in found.out)
    return f"{found.result.before.spec.name}: {instead} instead of {out}"


def _worth_a_word(each: LikeForLike) -> bool:
    """Whether an even exchange would be of another amount."""
    same_unit = each.instead.per == each.line.ingredient.per
    return not same_unit or abs(each.amount - each.line.amount) > 0.005 * each.line.amount


def _like(each: LikeForLike, bar: Bar) -> str:
    measure = each.measure.label if each.measure else "volume"
    amount = f"{each.amount:.1f} {each.instead.unit}"
    said = show_volume(each.amount, bar.show, bar.measures)
    also = f" ({said})" if said.endswith("oz") and each.instead.per == "ml" else ""
    line = each.line
    return (
        f"By {measure} alone, {said_amount(line, bar)} of {line.ingredient.name} would be "
        f"{amount}{also} of {each.instead.name}."
    )


def _with_water(found: Swap) -> list[str]:
    """The command that pours water with one thing that is much stronger than what it replaces,
    where the drink is shorter without."""
    shorter = any(
        met.aim.measure.name == "volume" and (met.value or 0.0) < met.aim.value
        for met in found.result.moved
    )
    if not shorter or len(found.like) != 1 or len(found.instead) != 1:
        return []
    (each,) = found.like
    in_ml = each.line.ingredient.per == each.instead.per == "ml"
    if not in_ml or each.amount * STRONGER > each.line.amount:
        return []
    spec = found.result.before.spec
    name = spec.origin.stem if spec.origin else shlex.quote(spec.name)
    asked = f"{name} {each.line.ingredient.key} --split '{each.instead.key} + water'"
    return [f"With water to the same amount: `equipour swap {asked}`"]


def _other(each: Swap, bar: Bar) -> str:
    result = each.result
    names = " and ".join(item.name for item in each.instead)
    pours = "; ".join(change_words(change, bar) for change in result.changes if change.now)
    told = told_words(result.consequences)
    gains = "".join(f"; {said}" for said in (told, *caution_words(result)) if said)
    if result.after is None:
        why = impossible_words(result)
        return f"  impossible  {names}: {why[:1].lower()}{why[1:]}"
    moved = ", ".join(moved_words(met) for met in result.moved)
    state = "kept " if result.held else "moved"
    return f"  {state}  {pours}{f' ({moved})' if moved else ''}{gains}"
