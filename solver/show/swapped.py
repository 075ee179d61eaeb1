"""A swap, for people and for programs."""

from __future__ import annotations

from typing import Any

from solver.pantry.bar import Bar
from solver.quantities import show_volume
from solver.show.contract import document
from solver.show.guest import guest_lines
from solver.show.rebalanced import (
    change_words,
    consequence_line,
    kept_line,
    measure_lines,
    moved_words,
    pour_lines,
    rebalanced_fields,
    told_words,
    verdict_lines,
)
from solver.tasks.rebalance.instead import LikeForLike, Swap, Swaps, of_different_kinds

MOST_SHOWN = 8
"""Stand-ins that are shown."""


def swap_text(found: Swaps, out: str, bar: Bar) -> str:
    """The best swap in full, and the others in a line each; `out` is what was to be replaced."""
    first = found.best
    if first is None and found.untried:
        return f"The time was up before anything that could stand in for {out} was settled."
    if first is None:
        return f"Nothing on the shelf can stand in for {out}."
    result = first.result
    lines = [_heading(first), kept_line(result.kept), ""]
    if result.after is not None:
        lines += [*pour_lines(result), "", *measure_lines(result, bar), ""]
    lines += [_like(each, bar) for each in first.like if _worth_a_word(each)]
    lines += [*verdict_lines(result), consequence_line(result.consequences)]
    if result.after is not None:
        lines += guest_lines(result.after.guest)
    others = of_different_kinds(found.found[1:], MOST_SHOWN - 1)
    if others:
        lines += ["", f"Of {len(found)} that could stand in, also, best first:"]
        lines += [_other(each) for each in others]
    if found.untried:
        lines += ["", f"The time was up before {found.untried} more were settled: try a longer "]
        lines[-1] += "--time-limit. One of them may be better."
    return "\n".join(lines)


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
        f"By {measure} alone, {line.said} of {line.ingredient.name} would be {amount}{also} of "
        f"{each.instead.name}."
    )


def _other(each: Swap) -> str:
    result = each.result
    names = " and ".join(item.name for item in each.instead)
    pours = "; ".join(change_words(change) for change in result.changes if change.now)
    told = told_words(result.consequences)
    gains = f"; {told}" if told else ""
    if result.after is None:
        return f"  impossible  {names}: nothing fits the glass"
    moved = ", ".join(moved_words(met) for met in result.moved)
    state = "kept " if result.held else "moved"
    return f"  {state}  {pours}{f' ({moved})' if moved else ''}{gains}"


def swap_json(found: Swaps) -> str:
    """The document of a swap."""
    others = of_different_kinds(found.found[1:], MOST_SHOWN - 1)
    nothing = {"status": "stopped" if found.untried else "impossible", "answer": None}
    return document(
        "swap",
        {
            **(nothing if found.best is None else _fields(found.best)),
            "alternatives": [_fields(each) for each in others],
            "untried": found.untried,
        },
    )


def _fields(found: Swap) -> dict[str, Any]:
    return {
        "out": [item.key for item in found.out],
        "in": [item.key for item in found.instead],
        "like_for_like": [
            {
                "out": each.line.ingredient.key,
                "in": each.instead.key,
                "measure": each.measure.name if each.measure else "volume",
                "g" if each.instead.per == "g" else "ml": round(each.amount, 3),
            }
            for each in found.like
        ],
        **rebalanced_fields(found.result),
    }
