"""What to add to a batch, as people read it."""

from __future__ import annotations

from collections.abc import Iterator

from solver.kitchen.aiming import BatchMeasure
from solver.mixture.keeping import DELLE_STABLE
from solver.show.text.guest import DEFERS
from solver.tasks.prep.additions import Aimed

_SAID = {
    BatchMeasure.BRIX: ("Brix", "", 1),
    BatchMeasure.SUGAR: ("sugar", "g/100 mL", 1),
    BatchMeasure.ACID: ("acid", "g/100 mL", 2),
    BatchMeasure.ABV: ("strength", "% vol", 1),
}


def aimed_text(found: Aimed) -> str:
    """What to add, what that comes to, and what holds it back."""
    lines = [f"To {found.start_g:.0f} g ({found.start_ml:.0f} mL) of {found.name} add:"]
    for added in found.added:
        poured = "" if added.ml is None else f" ({added.ml:.0f} mL)"
        lines.append(f"  {added.grams:>7g} g  {added.ingredient.name}{poured}")
    if not found.added:
        lines.append("  nothing: it is there")
    lines += ["", f"That makes {found.volume_ml:.0f} mL:"]
    lines += list(_values(found))
    lines += ["", *_verdict(found)]
    lines += [f"Assumed: {text}." for text in found.assumed]
    items = [added.ingredient for added in found.added]
    cautions = dict.fromkeys(c for item in items for c in (*item.cautions, *item.kitchen_cautions))
    lines += [f"Caution: {caution}" for caution in cautions]
    return "\n".join([*lines, DEFERS])


def _values(found: Aimed) -> Iterator[str]:
    aims = {aim.measure: aim.value for aim in found.aims}
    for measure, (label, unit, digits) in _SAID.items():
        value = found.figures[measure.value]
        strong = found.figures[BatchMeasure.ABV.value] > 0
        if (measure not in aims and value == 0) or (measure is BatchMeasure.BRIX and strong):
            continue
        aim = f"aim {aims[measure]:.{digits}f}" if measure in aims else ""
        yield f"  {label:<9} {value:>7.{digits}f} {unit:<9} {aim}".rstrip()
    yield f"  {'aw':<9} {found.figures['water_activity']:>7.3f} (water activity, Norrish)"
    yield f"  {'Delle':<9} {found.figures['delle']:>7.0f} units; {DELLE_STABLE:.0f} stop yeast"


def _verdict(found: Aimed) -> Iterator[str]:
    if found.met:
        yield "In whole steps of the scale, and checked by the exact mass balance."
        return
    yield "The aim is not met."
    for held in found.held.limits:
        pairs = zip(found.aims, held.values, strict=True)
        without = ", ".join(_said(aim.measure, value) for aim, value in pairs)
        yield f"Held back: {held.says}; without that it would be {without}."
    if found.held.undecided:
        yield "There was no time to tell all that holds it back."
    elif not found.held.limits:
        yield "No step of the scale comes nearer."


def _said(measure: BatchMeasure, value: float) -> str:
    label, unit, digits = _SAID[measure]
    if measure is BatchMeasure.BRIX:
        return f"{value:.{digits}f} {label}"
    return f"{label} {value:.{digits}f} {unit}"
