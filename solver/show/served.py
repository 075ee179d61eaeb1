"""One syrup for several drinks: for people, for programs, and the curve as a picture."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from typing import Any

from solver.pantry.bar import Bar
from solver.show.contract import document, finite
from solver.show.curve import Line, curve_svg
from solver.show.pours import said_amount
from solver.tasks.prep.serve import Served, Serving, Strength


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


def _row(strength: Strength, found: Served, wide: int) -> str:
    cells = "  ".join(f"{_off(serving.off_aim):>{wide}}" for serving in strength.servings)
    mark = "*" if strength is found.best else " "
    acid = strength.ingredient.acid.value
    return f" {mark}{strength.brix:>6.1f}{acid:>8.2f}  {_off(strength.worst):>6}  {cells}"


def _off(value: float) -> str:
    return f"{value:.2f}" if math.isfinite(value) else "none"


def _best(found: Served) -> Iterator[str]:
    best, now = found.best, found.now
    sugar = best.ingredient.sugar.value
    worst = max(best.servings, key=lambda serving: serving.off_aim)
    acid = best.ingredient.acid.value
    sharp = f" and {acid:.2f} g of acid" if acid > 0 else ""
    yield (
        f"Best is {best.brix:g} Brix ({sugar:.1f} g of sugar{sharp} in 100 mL): the worst of them, "
        f"{worst.profile}, is off its aims by {best.worst:.2f}. The batch as it is has "
        f"{now.brix:.1f} Brix, and its worst is off by {_off(now.worst)}."
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
        yield "Not proven: some drinks on the grid ran out of time. Try a longer --time-limit."


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


def _fields(strength: Strength) -> dict[str, Any]:
    return {
        "brix": strength.brix,
        "sugar_g_100ml": strength.ingredient.sugar.value,
        "acid_g_100ml": strength.ingredient.acid.value,
        "worst": finite(strength.worst),
        "off_aim": {s.profile: finite(s.off_aim) for s in strength.servings},
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
    brix = [strength.brix for strength in shown]
    lines = [
        Line(name, [strength.servings[k].off_aim for strength in shown])
        for k, name in enumerate(found.profiles)
    ]
    worst = Line("worst", [strength.worst for strength in shown])
    return curve_svg(
        title=f"{found.prep.ingredient.name} for {', '.join(found.profiles)}",
        says=_picture_says(found),
        across="Brix of the syrup",
        up="off aim, noticeable differences",
        at=brix,
        lines=_bounded([*lines, worst]),
        mark=(found.best.brix, found.best.worst),
    )


def _curve(found: Served) -> list[Strength]:
    """One strength for each Brix: that whose worst drink is closest, where there are several."""
    best: dict[float, Strength] = {}
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


def _bounded(lines: Sequence[Line]) -> list[Line]:
    """Lines without the strengths that serve nothing: they are left as gaps."""
    return [
        Line(line.name, [v if v is not None and math.isfinite(v) else None for v in line.values])
        for line in lines
    ]
