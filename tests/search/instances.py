"""Random problems, from a seed: the same on every machine.

`small` problems can be enumerated drink by drink; `shelf` problems are as large as asked. Their
compositions are drawn over the ranges of the built-in library, with many decimals, so that they
are harder than real shelves, on which many bottles are alike.
"""

from __future__ import annotations

import itertools
import math
import random
from collections.abc import Sequence
from dataclasses import replace

import numpy as np

from solver.measures import MEASURES, character_measure
from solver.mixture.label import from_dry, from_label
from solver.mixture.melt import TECHNIQUES
from solver.search.exact import evaluate, evaluate_one
from solver.search.problem import (
    Aim,
    Candidate,
    Choice,
    Drink,
    Floats,
    Former,
    Goal,
    Limit,
    PartRule,
    Problem,
)

QUARTER_OUNCE_ML = 29.5735 / 4

RANGES = {
    # part: (abv, sugar, acid) ranges of what fills it, steps of its pours, how many fill it
    "base": ((37.5, 57.0), (0.0, 0.5), (0.0, 0.0), (4, 10), (1, 1)),
    "sour": ((0.0, 0.0), (1.0, 9.0), (1.5, 6.5), (2, 5), (1, 1)),
    "sweet": ((0.0, 0.0), (40.0, 88.0), (0.0, 1.5), (1, 4), (1, 1)),
    "modifier": ((11.0, 42.0), (3.0, 45.0), (0.0, 0.6), (1, 3), (0, 1)),
    "bitter": ((28.0, 47.0), (0.0, 5.0), (0.0, 0.0), (1, 3), (0, 1)),
    "lengthener": ((0.0, 12.0), (0.0, 11.0), (0.0, 0.6), (4, 12), (1, 1)),
    "syrup": ((0.0, 5.0), (60.0, 130.0), (0.0, 0.5), (1, 8), (1, 1)),
    "spirit": ((40.0, 96.0), (0.0, 5.0), (0.0, 0.0), (1, 8), (0, 1)),
    "dry": ((0.0, 0.0), (90.0, 100.0), (0.0, 5.0), (1, 25), (0, 1)),
}
"""Those of a bar; and beyond them spirits before they are cut, syrups as they are hot, and what is
dry: weighed in grams, its figures in g/100 g."""
SWEETEST = {"syrup": 2, "dry": 2, "spirit": 2}
"""Sizes of problems of drinks so sweet that nobody pours them."""
ICED = ("shake", "stir", "build")
AIMS = {"abv": (14.0, 22.0, 1.0), "sugar": (4.0, 9.0, 0.6), "acid": (0.5, 1.0, 0.08)}


def candidate(rng: random.Random, part: str, index: int, number: int, step_ml: float) -> Candidate:
    """One ingredient of a part, with random composition, price and span of pours."""
    abv, sugar, acid, steps, _ = RANGES[part]
    if part == "dry":
        return _dry(rng, index, number)
    acid_g = rng.uniform(*acid)
    composition = from_label(
        abv_pct=rng.uniform(*abv),
        sugar_g_100ml=rng.uniform(*sugar),
        acid_g_100ml=acid_g,
        acids={"citric": 1.0} if acid_g else None,
    )
    unit = 0.92 if part == "bitter" else step_ml
    scale = 1 if part == "bitter" else QUARTER_OUNCE_ML / step_ml
    low, high = round(steps[0] * scale), round(steps[1] * scale)
    return Candidate(
        ingredient=f"{part}-{number}",
        part=index,
        amounts=tuple(unit * k for k in range(max(1, low), high + 1)),
        composition=tuple(float(x) for x in composition),
        cost=round(rng.uniform(0.005, 0.08), 4),
        top=part == "lengthener",
    )


def _dry(rng: random.Random, index: int, number: int) -> Candidate:
    _, sugar, acid, grams, _ = RANGES["dry"]
    sugar_g = rng.uniform(*sugar)
    composition = from_dry(
        sugar_g_100g=sugar_g, acid_g_100g=rng.uniform(0.0, min(acid[1], 100.0 - sugar_g))
    )
    return Candidate(
        ingredient=f"dry-{number}",
        part=index,
        amounts=tuple(sorted(rng.sample(range(grams[0], grams[1] + 1), 4))),
        composition=tuple(float(x) for x in composition),
        cost=round(rng.uniform(0.001, 0.01), 4),
    )


def problem(
    seed: int,
    sizes: dict[str, int],
    *,
    step_ml: float = QUARTER_OUNCE_ML,
    techniques: Sequence[str] = ICED,
    goal: Goal = Goal.CLOSEST,
    with_limits: bool = True,
) -> Problem:
    """A problem with so many candidates in each part; aims lie near a random drink of it."""
    rng = random.Random(seed)
    parts: list[PartRule] = []
    candidates: list[Candidate] = []
    for index, (part, size) in enumerate(sizes.items()):
        low, high = RANGES[part][4]
        parts.append(PartRule(part, low, high))
        candidates += [candidate(rng, part, index, n, step_ml) for n in range(size)]
    technique = rng.choice(techniques)
    bare = Problem(tuple(candidates), tuple(parts), TECHNIQUES[technique].curve)
    named = (*AIMS, "volume")
    measured = Problem(
        bare.candidates,
        bare.parts,
        bare.curve,
        limits=tuple(Limit(name, MEASURES[name]) for name in (*named, "cost")),
    )
    model = random_drink(rng, bare)
    values = evaluate_one(measured, model).values
    noise = {"abv": 1.0, "sugar": 1.0, "acid": 0.1, "volume": 10.0}
    aims = tuple(
        Aim(
            MEASURES[name],
            max(0.0, float(values[name][0]) + rng.uniform(-1.5, 1.5) * noise[name]),
            AIMS[name][2] if name in AIMS else 10.0,
        )
        for name in named
    )
    limits = _limits(rng, values) if with_limits else ()
    given = Problem(
        bare.candidates, bare.parts, bare.curve, limits, _choices(rng, bare), aims, goal
    )
    return with_formers(given, seed) if goal is Goal.NEAREST else given


def with_formers(given: Problem, seed: int) -> Problem:
    """The problem with changes counted from a random drink; some of what it pours is not there.

    What may stand in for that is counted from how much of it there was.
    """
    rng = random.Random(seed)
    before = dict(random_drink(rng, given))
    candidates: list[Candidate] = []
    for index, each in enumerate(given.candidates):
        here = [i for i in before if given.candidates[i].part == each.part]
        gone = bool(here) and rng.random() < 0.3
        same = index in before and not gone
        poured = [given.candidates[i].amounts[before[i]] for i in here]
        amount = each.amounts[before[index]] if same else (poured[0] if gone else 0.0)
        step = rng.choice([each.amounts[0], 2.5, 10.0])
        counts = 1.125 if index % 3 == 0 else 1.0  # moves after others
        candidates.append(replace(each, former=Former(amount, step, same, counts)))
    return replace(given, candidates=tuple(candidates))


def with_ranges(given: Problem) -> Problem:
    """The problem with ranges for aims: some closed, some open at one end."""
    ends = ((1.0, 1.0), (1.0, 1.05), (0.0, 0.9), (1.1, math.inf))
    return replace(
        given,
        aims=tuple(
            replace(aim, value=aim.value * low, until=aim.value * high)
            for aim, (low, high) in zip(given.aims, ends, strict=True)
        ),
    )


SHARED = {"base": 2, "sour": 1, "sweet": 2, "modifier": 3}
"""Sizes of problems for `with_shared_part`."""


def with_shared_part(given: Problem, seed: int) -> Problem:
    """The problem with up to two in its last part, of which mostly a total is asked."""
    rng = random.Random(seed)
    *others, last = given.parts
    step = min(c.amounts[0] for c in given.candidates if c.part == len(others))
    part = PartRule(
        last.name,
        rng.randint(0, 2),
        2,
        total_low=rng.choice((None, 2, 3)),
        total_high=rng.choice((None, 3, 4)),
    )
    totals = (None if end is None else end * step for end in (part.total_low, part.total_high))
    low, high = totals
    return replace(given, parts=(*others, replace(part, total_low=low, total_high=high)))


CHARACTERS = (character_measure(("smoke",)), character_measure(("honey", "nut")))
"""Two measures of character; every third ingredient carries neither."""


def with_characters(given: Problem, seed: int, *, aimed: bool = False) -> Problem:
    """The problem with characters, of which a range is asked, or with `aimed` a value.

    The ranges lie about what a random drink has; some of them are met by no drink.
    """
    rng = random.Random(seed)
    candidates = tuple(
        replace(
            each,
            carries=tuple(
                (measure.name, 1.0 / rng.uniform(0.5, 2.0) / each.amounts[0])
                for measure in CHARACTERS
                if rng.random() < 0.4
            ),
        )
        for each in given.candidates
    )
    carrying = replace(given, candidates=candidates, characters=CHARACTERS)
    measured = replace(carrying, limits=tuple(Limit(m.name, m) for m in CHARACTERS))
    values = evaluate_one(measured, random_drink(rng, given)).values
    had = {measure: float(values[measure.name][0]) for measure in CHARACTERS}
    if aimed:
        aims = (Aim(measure, value, measure.tolerance(value)) for measure, value in had.items())
        return replace(carrying, aims=(*given.aims, *aims))
    limits = (
        Limit(measure.name, measure, value * rng.choice([0.0, 0.5, 1.0, 1.3]) or None, None)
        if rng.random() < 0.5
        else Limit(measure.name, measure, None, value * rng.choice([0.0, 0.7, 1.0]))
        for measure, value in had.items()
    )
    return replace(carrying, limits=(*given.limits, *limits))


def _limits(rng: random.Random, values: dict[str, Floats]) -> tuple[Limit, ...]:
    """Limits around a drink, some of them so tight or so far off that nothing keeps them."""
    width = {"abv": 3.0, "sugar": 2.5, "acid": 0.25, "volume": 30.0, "cost": 1.0}
    limits: list[Limit] = []
    for name, wide in width.items():
        centre = float(values[name][0]) + rng.uniform(-0.8, 0.8) * wide
        low = max(0.0, centre - rng.uniform(0.1, 1.0) * wide)
        high = max(low, centre + rng.uniform(0.1, 1.0) * wide)
        side = rng.choice(["low", "high", "both", "none"])
        if side != "none":
            limits.append(
                Limit(
                    name,
                    MEASURES[name],
                    low if side in {"low", "both"} else None,
                    high if side in {"high", "both"} else None,
                )
            )
    return tuple(limits)


def _choices(rng: random.Random, bare: Problem) -> tuple[Choice, ...]:
    members = [i for i in range(len(bare.candidates)) if rng.random() < 0.3]
    if not members or rng.random() < 0.6:
        return ()
    if rng.random() < 0.5:
        return (Choice("wished for", frozenset(members), low=1),)
    return (Choice("at most one", frozenset(members), high=1),)


def random_drink(rng: random.Random, bare: Problem) -> Drink:
    """A drink that keeps the part counts."""
    picks: list[tuple[int, int]] = []
    for index, part in enumerate(bare.parts):
        mine = [i for i, c in enumerate(bare.candidates) if c.part == index]
        count = rng.randint(part.count_low, min(part.count_high, len(mine)))
        picks += [
            (i, rng.randrange(len(bare.candidates[i].amounts))) for i in rng.sample(mine, count)
        ]
    return tuple(sorted(picks))


def every_drink(given: Problem) -> tuple[list[Drink], Floats]:
    """All drinks that keep the part counts, and their amounts, shape (n, candidates)."""
    ways = itertools.product(*_every_filling(given))
    drinks = [tuple(sorted(itertools.chain.from_iterable(way))) for way in ways]
    return drinks, every_amount(given)


def every_amount(given: Problem) -> Floats:
    """The amounts of `every_drink`, shape (n, candidates)."""
    width = len(given.candidates)
    amounts = np.zeros((1, width))
    for fillings in _every_filling(given):
        rows = np.array([given.amounts(each) for each in fillings]).reshape(-1, width)
        amounts = (amounts[:, np.newaxis] + rows).reshape(-1, width)
    return amounts


def _every_filling(given: Problem) -> list[list[Drink]]:
    """All fillings of each part."""
    per_part: list[list[Drink]] = []
    for index, part in enumerate(given.parts):
        mine = [i for i, c in enumerate(given.candidates) if c.part == index]
        options: list[Drink] = []
        for count in range(part.count_low, part.count_high + 1):
            for chosen in itertools.combinations(mine, count):
                spans = (range(len(given.candidates[i].amounts)) for i in chosen)
                options += [tuple(zip(chosen, p, strict=True)) for p in itertools.product(*spans)]
        per_part.append(options)
    return per_part


def brute_force(given: Problem) -> float | None:
    """The least goal over every drink there is, or None where nothing is feasible."""
    found = evaluate(given, every_amount(given))
    if not found.feasible.any():
        return None
    goal = given.goal.measure
    values = found.off_aim if goal is None else found.values[goal.name]
    return float(values[found.feasible].min())
