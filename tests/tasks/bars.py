"""Random requests on small bars, and every drink that they allow."""

from __future__ import annotations

import random
from dataclasses import dataclass, replace
from functools import cache
from pathlib import Path

import numpy as np

from solver.measures import MEASURES
from solver.pantry.bar import Bar, load_bar
from solver.pantry.profile import Profile
from solver.pantry.profile_files import find_profile, profile_files
from solver.search.exact import evaluate, within
from solver.search.problem import Floats, Limit, Problem
from solver.tasks.demands import Asked, Demand, Kind
from solver.tasks.request import Request
from tests.search.instances import every_drink

DEMO = Path(__file__).parents[2] / "demo"
MEASURED = frozenset({Kind.LEAST, Kind.MOST})
FILLING = {
    "base": ("gin", "rye-whiskey", "vodka", "mezcal", "aquavit"),
    "sour": ("lemon-juice", "lime-juice", "sharp-rhubarb-juice"),
    "sweet": ("rhubarb-syrup", "honey-syrup", "almond-spice-syrup"),
    "modifier": ("dry-vermouth", "amaretto", "elderflower-liqueur"),
}


@cache
def demo() -> Bar:
    """The demonstration bar."""
    return load_bar(DEMO)


@cache
def sour() -> Profile:
    """The built-in sour."""
    return find_profile("sour", profile_files(None))


def small_bar(rng: random.Random) -> Bar:
    """The demonstration bar with few bottles left, enough for a sour."""
    kept = {
        key
        for part, keys in FILLING.items()
        for key in rng.sample(keys, 1 if part == "modifier" else 2)
    }
    return replace(demo(), stock=tuple(s for s in demo().stock if s.ingredient.key in kept))


def small_request(rng: random.Random, bar: Bar) -> Request:
    """Wishes around what a sour can be: about half of them cannot all be kept."""
    asked: dict[str, tuple[str, ...]] = {}
    for name, low, high, width, unit in (
        ("abv", 12.0, 22.0, 3.0, "%"),
        ("sugar", 3.0, 11.0, 2.0, " g/100ml"),
        ("acid", 0.5, 1.2, 0.2, " g/100ml"),
        ("volume", 110.0, 190.0, 30.0, " ml"),
        ("cost", 1.0, 3.5, 1.0, ""),
    ):
        at = rng.uniform(low, high)
        form = rng.choice(["none", "none", "most", "least", "range"])
        if form == "most":
            asked[name] = (f"<={at:.3f}{unit}",)
        elif form == "least":
            asked[name] = (f">={at:.3f}{unit}",)
        elif form == "range":
            asked[name] = (f"{at:.3f}..{at + rng.uniform(0.1, 1.0) * width:.3f}{unit}",)
    keys = [stocked.ingredient.key for stocked in bar.stock]
    wanted = (rng.choice(keys),) if rng.random() < 0.4 else ()
    return Request(measures=asked, wanted=wanted)


@dataclass(frozen=True)
class Everything:
    """Every drink of a request without its demands on measures and its wishes.

    `broken` holds for each drink the demands that it breaks, `poured` what it pours; `off_aim` and
    `values` are theirs.
    """

    asked: Asked
    demands: tuple[Demand, ...]
    broken: tuple[frozenset[Demand], ...]
    off_aim: Floats
    values: dict[str, Floats]
    poured: tuple[frozenset[str], ...]

    @classmethod
    def of(cls, asked: Asked) -> Everything:
        """Evaluate them all."""
        demands = tuple(d for d in asked.demands if d.kind in MEASURED | {Kind.WITH})
        problem = asked.problem(demands)
        named = replace(problem, limits=tuple(Limit("any", m) for m in MEASURES.values()))
        drinks, amounts = every_drink(named)
        found = evaluate(named, amounts)
        drinks_broken: list[set[Demand]] = [set() for _ in drinks]
        for demand in demands:
            kept = _keeps(demand, problem, amounts, found.values)
            for row in np.flatnonzero(~kept):
                drinks_broken[row].add(demand)
        whole = np.flatnonzero(found.feasible)
        return cls(
            asked,
            demands,
            tuple(frozenset(drinks_broken[row]) for row in whole),
            found.off_aim[whole],
            {name: values[whole] for name, values in found.values.items()},
            tuple(
                frozenset(problem.candidates[index].ingredient for index, _ in drinks[row])
                for row in whole
            ),
        )

    def best(self, dropped: frozenset[Demand] = frozenset()) -> float | None:
        """The least distance of the drinks that break nothing but `dropped`."""
        rows = [row for row, broken in enumerate(self.broken) if broken <= dropped]
        return float(self.off_aim[rows].min()) if rows else None

    def possible(self, active: frozenset[Demand]) -> bool:
        """Whether some drink keeps all of `active`."""
        return any(not broken & active for broken in set(self.broken))


def _keeps(
    demand: Demand, problem: Problem, amounts: Floats, values: dict[str, Floats]
) -> np.ndarray[tuple[int], np.dtype[np.bool_]]:
    if demand.limit is not None and demand.measure is not None:
        return within(demand.limit, values[demand.measure.name])
    members = [i for i, c in enumerate(problem.candidates) if c.ingredient == demand.subject]
    return np.asarray((amounts[:, members] > 0).any(axis=1))
