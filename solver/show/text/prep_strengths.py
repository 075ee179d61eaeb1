"""One syrup for several drinks, as people read it."""

from __future__ import annotations

import math
from collections.abc import Iterator

from solver.pantry.bar import Bar
from solver.show.text.pours import said_amount
from solver.tasks.prep.best_strength import Served, Serving, SyrupStrength


def served_text(found: Served, bar: Bar) -> str:
    """The grid, the best strength on it, and the drinks there."""
    wide = max(map(len, found.profiles))
    head = "  ".join(f"{name:>{max(wide, 6)}}" for name in found.profiles)
    lines = [
        f"{found.prep.ingredient.name} for {', '.join(found.profiles)}: off aim by so many "
        "noticeable differences",
        "",
        f"   Brix    acid   worst  {head}",
    ]
    lines += [_row(strength, found, max(wide, 6)) for strength in found.strengths]
    best = found.best
    lines += ["", *_best(found), ""]
    for serving in best.servings:
        lines += _drink(serving, bar)
    lines += ["", *_claim(found)]
    return "\n".join(lines)


def _row(strength: SyrupStrength, found: Served, wide: int) -> str:
    cells = "  ".join(f"{_serving(serving):>{wide}}" for serving in strength.servings)
    mark = "*" if strength is found.best else " "
    acid = strength.ingredient.acid.value
    return f" {mark}{strength.brix:>6.1f}{acid:>8.2f}  {_worst(strength):>6}  {cells}"


def _serving(serving: Serving) -> str:
    """How far off it is, marked where there was no time to prove it."""
    if serving.off_aim is None:
        return f"{serving.worst:.2f}?" if serving.answer else "?"
    return _off(serving.off_aim)


def _worst(strength: SyrupStrength) -> str:
    """The worst of the drinks, marked likewise."""
    if strength.proven:
        return _off(strength.worst)
    return f"{strength.worst:.2f}?" if math.isfinite(strength.worst) else "?"


def _off(value: float) -> str:
    return f"{value:.2f}" if math.isfinite(value) else "none"


def _best(found: Served) -> Iterator[str]:
    best, now = found.best, found.now
    sugar = best.ingredient.sugar.value
    worst = max(best.servings, key=lambda serving: serving.worst)
    acid = best.ingredient.acid.value
    seen = "Best is" if found.proven else "Best of what was seen is"
    sharp = f" and {acid:.2f} g of acid" if acid > 0 else ""
    yield (
        f"{seen} {best.brix:g} Brix ({sugar:.1f} g of sugar{sharp} in 100 mL): the worst of them, "
        f"{worst.profile}, is off its aims by {best.worst:.2f}. The batch as it is has "
        f"{now.brix:.1f} Brix, and its worst is off by {_worst(now)}."
    )
    aims = f"--aim '{best.brix:g} Brix'"
    if best.point.acid is not None and acid < best.point.acid + 0.005:
        aims += f" --aim 'acid {acid:.2f} g/100ml'"
    yield f"To get there: `equipour prep {found.prep.recipe.key} {aims}`."


def _drink(serving: Serving, bar: Bar) -> list[str]:
    if serving.answer is None:
        return []
    pours = ", ".join(f"{said_amount(p, bar)} {p.ingredient.name}" for p in serving.answer.pours)
    return [f"{serving.profile}: {pours}."]


def _claim(found: Served) -> Iterator[str]:
    grid = found.grid
    acids = "" if grid.acids is None else ", with three acids each"
    finer = "" if grid.acids is None else " and half-way to the next acids"
    yield (
        f"Tried: every {grid.coarse:g} Brix from {grid.low:g} to {grid.high:g}{acids}, and every "
        f"{grid.fine:g} Brix around the best of those{finer}; at each, the closest drink of every "
        "profile from the whole shelf. Nothing is claimed between these strengths."
    )
    if found.proven:
        yield "Every drink on the grid is proven closest."
    else:
        yield "Not proven: for those with a ? the time was up. Try a longer --time-limit."
