"""Random runs of nights, small enough to try every plan, and every plan of them tried."""

from __future__ import annotations

import itertools
import random
from collections.abc import Iterator
from dataclasses import replace
from fractions import Fraction

from solver.night.problem import WHOLE_SHARE, Drink, Lot, Night, Nights, Plan, Source, UseUp
from solver.night.rows import Demand, Kind, demands


def small(seed: int) -> Nights:
    """Up to three drinks on up to three days, four items, three ways to get more of them."""
    pick = random.Random(seed)
    days = pick.randint(1, 3)
    items = 4
    lots = [
        Lot(item, pick.choice((0, 3, 7, 12)), pick.choice((None, None, 0, 1, 2)))
        for item in range(items)
        if pick.random() < 0.8
    ]
    lots += [Lot(pick.randrange(items), pick.randint(1, 6), pick.randint(0, 2))]
    # Item 3 is what item 0 is cooked from.
    sources = [
        Source(
            0, pick.choice((4, 5, 9)), tuple(range(days)), most=3, keeps=pick.choice((0, 1, None)),
            takes={3: pick.randint(1, 3)}, lead=pick.choice((0, 0, 1)),
        ),
        Source(1, pick.choice((3, 10)), (0,), most=3, cost=pick.randint(1, 9), free=pick.randint(0, 1)),
        Source(
            pick.choice((2, 3)), pick.choice((2, 6)), (pick.randrange(days),),
            keeps=pick.choice((0, 1)), most=2, cost=pick.randint(0, 5),
        ),
    ]  # fmt: skip
    drinks = [
        Drink(
            {pick.randrange(3): pick.randint(1, 3), pick.randrange(3): pick.randint(1, 4)},
            *pick.choice(((0, 10000, 3333), (2500, 7500, 5000), (0, 5000, 2500), (3000, 10000, 6500))),
        )
        for _ in range(pick.randint(1, 3))
    ]
    nights = [Night(day, pick.randint(0, 3)) for day in range(days) if pick.random() < 0.8]
    use_up = [UseUp(pick.randrange(3), days - 1, pick.randint(0, 5))] if pick.random() < 0.4 else []
    return Nights(
        days=days,
        values=[pick.randint(1, 4) for _ in range(items)],
        lots=lots,
        sources=sources,
        drinks=drinks,
        nights=nights or [Night(0, 2)],
        use_up=use_up,
        spend=pick.choice((None, None, 0, 8)),
    )


def plans(question: Nights) -> Iterator[Plan]:
    """Every plan, whether it can be poured or not."""
    served = [
        list(_split(night.drinks, len(question.drinks))) for night in question.nights
    ]
    ready = []
    for source in question.sources:
        days = [day for day in source.days if source.lead <= day]
        ready.append(
            [
                {day: count for day, count in zip(days, counts, strict=True) if count}
                for counts in itertools.product(range(source.most + 1), repeat=len(days))
                if sum(counts) <= source.most
            ]
        )
    for serves in itertools.product(*served):
        for units in itertools.product(*ready):
            yield Plan(tuple(serves), tuple(units))


def _split(drinks: int, kinds: int) -> Iterator[tuple[int, ...]]:
    if kinds == 1:
        yield (drinks,)
        return
    for first in range(drinks + 1):
        for rest in _split(drinks - first, kinds - 1):
            yield (first, *rest)


def keeps_shares(question: Nights, plan: Plan) -> bool:
    """Whether every drink is within its limits on every night and in all, to the whole drink."""
    columns = [*plan.serves, tuple(map(sum, zip(*plan.serves, strict=True)))]
    for serves in columns:
        whole = sum(serves)
        for drink, count in zip(question.drinks, serves, strict=True):
            low = Fraction(drink.low * whole, WHOLE_SHARE)
            high = Fraction(drink.high * whole, WHOLE_SHARE)
            if not low - 1 < count < high + 1:
                return False
    return True
