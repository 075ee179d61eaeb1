"""The strengths of a syrup for several drinks, as a picture."""

from __future__ import annotations

import math
from collections.abc import Sequence

from solver.show.pages.chart import HEAVY, PENS, Chart, Place, Scale
from solver.tasks.prep.best_strength import Served, SyrupStrength

UP = "off aim, noticeable differences"


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
