"""A spec in another glass, as people read it."""

from __future__ import annotations

from solver.pantry.bar import Bar
from solver.show.text.design import after_a_gap
from solver.show.text.guest import day_line, guest_lines
from solver.show.text.rebalanced import (
    finer_line,
    measure_lines,
    moved_words,
    nearly_line,
    pour_lines,
    proof_line,
)
from solver.tasks.respec.scale import Scaled


def scaled_text(found: Scaled, bar: Bar) -> str:
    """Its pours before and after, what it keeps, and what a guest should know."""
    result, after = found.result, found.result.after
    lines = [_heading(found), *_filled(found), ""]
    if after is None:
        still = any(pour.moves == "never" for pour in result.before.spec.pours)
        why = " Its spec has pours that never move: `moves` in its file." if still else ""
        return "\n".join([*lines, f"Nothing that can be measured of it fits.{why}"])
    lines += [*pour_lines(result, bar), "", *measure_lines(result, bar), ""]
    lines += [*_verdict(found, bar), *guest_lines(after.guest)]
    return "\n".join([*lines, *after_a_gap(day_line(bar))])


def _heading(found: Scaled) -> str:
    where = f", glass: {found.glass}" if found.glass else ""
    return f"{found.result.before.spec.name}: {found.times:.2f} times as large{where}"


def _filled(found: Scaled) -> list[str]:
    """How full the glass is to be."""
    if found.line_ml is None or found.glass is None:
        return []
    line = f"{found.line_ml:.0f} mL to its line"
    if not found.measured:
        return [f"A {found.glass} usually takes {line}; yours is not in bar.toml."]
    if found.share is None or found.share > 1:
        return [f"The glass takes {line}."]
    return [f"The glass takes {line}; it is to be as full as it was, to {found.share:.0%} of it."]


def _verdict(found: Scaled, bar: Bar) -> list[str]:
    """What is kept, or by how much it is missed and what to do."""
    result = found.result
    rounded = "Every line is rounded to what can be measured, all of them together."
    if result.held and not result.changes:
        usual = "" if found.measured else "If yours is of the usual size, it"
        return [f"{usual or 'It'} fits as it is: no pour changes."]
    if result.held:
        kept = "Same strength, sugar and acid, and the volume of the glass, each within one"
        return [f"{kept} noticeable difference. {rounded} {proof_line(result)}"]
    if result.nearly:
        said = [nearly_line(result, bar)]
    else:
        said = ["No rounding of this jigger keeps it. The closest is:"]
        said += [f"  {moved_words(met)}" for met in result.moved]
    return [*said, *finer_line(result, bar), f"{rounded} {proof_line(result)}"]
