"""Random requests on small bars, and every drink that they allow.

What a drink keeps of a request is told here by its pours, and not by the program's own problems.
"""

from __future__ import annotations

import random
from dataclasses import dataclass, replace
from functools import cache
from pathlib import Path

import numpy as np

from solver.measures import MEASURES, Measure
from solver.pantry.bar import Bar
from solver.pantry.load_bar import load_bar
from solver.pantry.profile import Profile
from solver.pantry.profile_files import find_profile, profile_files
from solver.requests.asked_drink import AskedDrink
from solver.requests.character_amounts import usual_pour
from solver.requests.demands import Demand, DemandKind
from solver.requests.read_request import WrittenRequest, read_request
from solver.requests.request import Request
from solver.search.exact_evaluator import evaluate, keeps_limit
from solver.search.problem import Floats, Limit, Problem
from tests.search.instances import every_drink

DEMO = Path(__file__).parents[2] / "demo"
MEASURED = frozenset({DemandKind.LEAST, DemandKind.MOST})
FRAMED = frozenset({DemandKind.JIGGER, DemandKind.COUNT, DemandKind.POURS})
FILLING = {
    "base": ("gin", "rye-whiskey", "vodka", "mezcal", "aquavit"),
    "sour": ("lemon-juice", "lime-juice", "sharp-rhubarb-juice"),
    "sweet": ("rhubarb-syrup", "honey-syrup", "almond-spice-syrup"),
    "modifier": ("dry-vermouth", "amaretto", "elderflower-liqueur"),
}

POURED = ("1/4", "1/2", "1", "1..1 3/4", "1 1/2", "3", "1/4..1")
"""Ounces that a wish may ask for: in, across and outside the ranges of a sour's parts."""
TASTES = ("smoke", "citrus", "warm-spice", "floral")


@cache
def demo() -> Bar:
    """The demonstration bar."""
    return load_bar(DEMO)


@cache
def sour() -> Profile:
    """The built-in sour."""
    return find_profile("sour", profile_files(None))


def demo_with(*keys: str) -> Bar:
    """The demonstration bar with some of its bottles alone."""
    return replace(demo(), stock=tuple(s for s in demo().stock if s.ingredient.key in keys))


def small_bar(rng: random.Random) -> Bar:
    """The demonstration bar with few bottles left, enough for a sour."""
    kept = {
        key
        for part, keys in FILLING.items()
        for key in rng.sample(keys, 1 if part == "modifier" else 2)
    }
    return demo_with(*kept)


def small_wish(rng: random.Random, bar: Bar) -> WrittenRequest:
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
            asked[name] = (f"<={at:.4f}{unit}",)
        elif form == "least":
            asked[name] = (f">={at:.4f}{unit}",)
        elif form == "range":
            asked[name] = (f"{at:.4f}..{at + rng.uniform(0.1, 1.0) * width:.4f}{unit}",)
    keys = [stocked.ingredient.key for stocked in bar.stock]
    wanted = (rng.choice(keys),) if rng.random() < 0.4 else ()
    return WrittenRequest(measures=asked, wanted=wanted)


def small_request(rng: random.Random, bar: Bar) -> Request:
    """A `small_wish`, read."""
    return read_request(small_wish(rng, bar), bar)


def any_request(rng: random.Random, bar: Bar) -> Request:
    """As `small_wish`, with wishes of every kind; pours may lie far outside their part's range.

    Few are possible.
    """
    asked = small_wish(rng, bar)
    keys = [stocked.ingredient.key for stocked in bar.stock]
    wanted = [
        f"{rng.choice(keys)}={rng.choice(POURED)} oz" for _ in range(rng.choice((0, 1, 1, 2)))
    ]
    words = rng.sample([*keys, "spirit/agave", "syrup", "nuts", "sulphites"], rng.choice((0, 1, 2)))
    wish = replace(
        asked,
        measures=dict(rng.sample(list(asked.measures.items()), min(2, len(asked.measures)))),
        wanted=(*asked.wanted, *wanted),
        unwanted=tuple(words),
        character=tuple(rng.sample(TASTES, rng.choice((0, 0, 1)))),
        no_character=tuple(rng.sample(TASTES, rng.choice((0, 0, 1)))),
        serves=rng.choice((1, 1, 15, 30)),
        glass=rng.choice((None, "rocks", "double-rocks")),
    )
    return read_request(wish, bar)


def loud_request(rng: random.Random, bar: Bar) -> Request:
    """As `small_wish`, of few measures, with how loud some characters are to be, or a word."""
    asked = small_wish(rng, bar)
    tastes = rng.sample((*TASTES, "oak or juniper"), 2)
    ranges = ("<={0:.2f}", ">={0:.2f}", "{0:.2f}..{1:.2f}", "{0:.2f}")
    loud = []
    for taste in tastes:
        least = rng.choice((0.0, 0.5, 1.0, 1.5, 2.5)) * rng.uniform(0.8, 1.2)
        said = rng.choice(ranges).format(least, least + rng.uniform(0.1, 1.5))
        loud.append(f"{taste} {said}")
    wish = replace(
        asked,
        measures=dict(rng.sample(list(asked.measures.items()), min(1, len(asked.measures)))),
        character=(*rng.sample(loud, rng.choice((1, 2))), *rng.choice(((), ("no smoke",)))),
        words=rng.choice(((), (), ("bright",), ("heavy",))),
    )
    return read_request(wish, bar)


@dataclass(frozen=True)
class Everything:
    """Every drink of a request without its demands on measures and its wishes.

    `broken` holds for each drink the demands that it breaks, `poured` what it pours and `placed` in
    which parts; `off_aim` and `values` are theirs.
    """

    asked: AskedDrink
    demands: tuple[Demand, ...]
    broken: tuple[frozenset[Demand], ...]
    off_aim: Floats
    values: dict[str, Floats]
    placed: tuple[frozenset[tuple[str, str]], ...]

    @property
    def poured(self) -> tuple[frozenset[str], ...]:
        """What each drink pours."""
        return tuple(frozenset(key for _, key in placed) for placed in self.placed)

    @classmethod
    def of(cls, asked: AskedDrink) -> Everything:
        """Evaluate them all."""
        demands = tuple(d for d in asked.demands if d.kind not in FRAMED)
        problem = asked.problem(demands)
        measures = (*MEASURES.values(), *asked.characters)
        named = replace(problem, limits=tuple(Limit("any", m) for m in measures))
        drinks, amounts = every_drink(named)
        found = evaluate(named, amounts)
        drinks_broken: list[set[Demand]] = [set() for _ in drinks]
        for demand in demands:
            kept = _keeps(demand, asked, problem, amounts, found.values)
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
                frozenset(
                    (problem.parts[c.part].name, c.ingredient)
                    for c in (problem.candidates[index] for index, _ in drinks[row])
                )
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
    demand: Demand, asked: AskedDrink, problem: Problem, amounts: Floats, values: dict[str, Floats]
) -> np.ndarray[tuple[int], np.dtype[np.bool_]]:
    """Whether each drink keeps a demand, shape (n,)."""
    if demand.limit is not None and demand.measure is not None and demand.measure.tags:
        loud = _loud(demand.measure, asked, problem, amounts)
        return np.asarray(keeps_limit(demand.limit, loud))
    if demand.limit is not None and demand.measure is not None:
        return keeps_limit(demand.limit, values[demand.measure.name])
    bar = asked.bar
    candidates = problem.candidates
    mine = [i for i, c in enumerate(candidates) if _is_about(demand, bar, c.ingredient)]
    if demand.kind in {DemandKind.WITH, DemandKind.CHARACTER}:
        return np.asarray((amounts[:, mine] > 0).any(axis=1))
    if demand.kind in {DemandKind.WITHOUT, DemandKind.NO_CHARACTER}:
        return np.asarray((amounts[:, mine] == 0).all(axis=1))
    if demand.kind is DemandKind.POUR:
        assert demand.span is not None
        low, high = demand.span.low * (1 - 1e-9), demand.span.high * (1 + 1e-9)
        held = (amounts[:, mine] >= low) & (amounts[:, mine] <= high)
        return np.asarray((held | (amounts[:, mine] == 0)).all(axis=1))
    assert demand.kind is DemandKind.STOCK
    left = [bar.stocked(c.ingredient) for c in candidates]
    most = np.array([np.inf if s is None or s.on_hand is None else s.on_hand for s in left])
    return np.asarray((amounts * asked.request.serves <= most).all(axis=1))


def _loud(measure: Measure, asked: AskedDrink, problem: Problem, amounts: Floats) -> Floats:
    """The usual pours of what has a character in each drink, shape (n,)."""
    total = np.zeros(len(amounts))
    for column, candidate in enumerate(problem.candidates):
        item = asked.bar.bottles.find(candidate.ingredient)
        if set(measure.tags) & set(item.character):
            pours = asked.profile.part_pours(
                asked.profile.parts[candidate.part], asked.bar.measures
            )
            total += amounts[:, column] / usual_pour(item, pours, asked.taste)
    return total


def _is_about(demand: Demand, bar: Bar, key: str) -> bool:
    """Whether a wish is about an ingredient."""
    ingredient = bar.bottles.find(key)
    if demand.kind is DemandKind.CHARACTER:
        return any(tag in ingredient.character for tag in demand.tags)
    if demand.kind is DemandKind.NO_CHARACTER:
        return demand.subject in ingredient.character
    if demand.kind is DemandKind.WITHOUT:
        return bar.avoidable.word(demand.subject).against(bar.told_of(ingredient)) is not None
    return key == demand.subject
