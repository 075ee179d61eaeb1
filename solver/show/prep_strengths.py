"""One syrup for several drinks: for people, for programs, and the curve as a picture."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from typing import Any

from solver.pantry.bar import Bar
from solver.show.chart import HEAVY, PENS, Chart, Place, Scale
from solver.show.contract import document, finite
from solver.show.pours import said_amount
from solver.tasks.prep.best_strength import Served, Serving, SyrupStrength

UP = "off aim, noticeable differences"


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


def served_json(found: Served) -> str:
    """The same for programs."""
    return document(
        "prep-serve",
        {
            "name": found.prep.recipe.key,
            "profiles": list(found.profiles),
            "grid": {
                "low_brix": found.grid.low,
                "high_brix": found.grid.high,
                "coarse_brix": found.grid.coarse,
                "fine_brix": found.grid.fine,
                "acids_g_100ml": found.grid.acids,
            },
            "strengths": [_fields(strength) for strength in found.strengths],
            "best": _fields(found.best),
            "now": _fields(found.now),
            "proven": found.proven,
        },
    )


def _fields(strength: SyrupStrength) -> dict[str, Any]:
    return {
        "brix": strength.brix,
        "sugar_g_100ml": strength.ingredient.sugar.value,
        "acid_g_100ml": strength.ingredient.acid.value,
        "worst": finite(strength.worst),
        "off_aim": {s.profile: finite(s.worst) for s in strength.servings},
        "proven": strength.proven,
        "pours": {s.profile: _pours(s) for s in strength.servings},
    }


def _pours(serving: Serving) -> list[dict[str, Any]] | None:
    if serving.answer is None:
        return None
    return [
        {
            "part": pour.part,
            "ingredient": pour.ingredient.key,
            "g" if pour.ingredient.per == "g" else "ml": round(pour.amount, 3),
        }
        for pour in serving.answer.pours
    ]


def served_svg(found: Served) -> str:
    """The distance of the worst drink, and of each, against the strength of the syrup."""
    shown = _curve(found)
    worst = [(strength.brix, strength.worst) for strength in shown]
    known = [place for place in worst if math.isfinite(place[1])]
    x = Scale.around("Brix of the syrup", [strength.brix for strength in shown])
    y = Scale.around(UP, [0.0, *(value for _, value in known)])
    chart = Chart(f"{_name(found)} for {', '.join(found.profiles)}", _picture_says(found), x, y)
    chart.axes()
    for k, name in enumerate(found.profiles):
        pen = PENS[k % len(PENS)]
        chart.line(_finite([(s.brix, s.servings[k].worst) for s in shown]), pen)
        chart.key_line(pen, name)
    chart.line(_finite(worst), HEAVY)
    chart.key_line(HEAVY, "worst of them")
    for brix, value in known:  # nothing is known between the points
        chart.marker((brix, value), f"{brix:g} Brix: off aim by {value:.2f}")
    best = found.best.brix, found.best.worst
    chart.marker(best, _picture_says(found), chosen=True)
    chart.label(best, f"{found.best.brix:g} Brix", below=True)
    return chart.text()


def _finite(places: Sequence[Place]) -> list[Place | None]:
    """Places without the strengths that serve nothing: they are left as gaps."""
    return [place if math.isfinite(place[1]) else None for place in places]


def _name(found: Served) -> str:
    return found.prep.ingredient.name


def _curve(found: Served) -> list[SyrupStrength]:
    """One strength for each Brix: that whose worst drink is closest, where there are several."""
    best: dict[float, SyrupStrength] = {}
    for strength in found.strengths:
        rival = best.setdefault(strength.brix, strength)
        if strength.worst < rival.worst:
            best[strength.brix] = strength
    return list(best.values())


def _picture_says(found: Served) -> str:
    return (
        f"The worst drink is closest to its aims at {found.best.brix:g} Brix, "
        f"{found.best.worst:.2f} noticeable differences off."
    )
