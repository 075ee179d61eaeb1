"""Random runs of nights, small enough to try every plan, and every plan of them tried."""

from __future__ import annotations

import itertools
import random
from collections.abc import Iterator
from dataclasses import replace

from solver.night.problem import (
    WHOLE_SHARE,
    Capacity,
    Night,
    NightDrink,
    NightLot,
    Nights,
    PlanValues,
    Source,
    UseUp,
)
from solver.night.source_bounds import with_source_bounds


def small(seed: int) -> Nights:
    """Up to three drinks on up to three days, four items, three ways to get more of them."""
    pick, cases = random.Random(seed), random.Random(-seed)
    days = pick.randint(1, 3)
    items = 4
    lots = [
        NightLot(item, pick.choice((0, 3, 7, 12)), pick.choice((None, None, 0, 1, 2)))
        for item in range(items)
        if pick.random() < 0.8
    ]
    lots += [NightLot(pick.randrange(items), pick.randint(1, 6), pick.randint(0, 2))]
    # Some has to stand until a later day, which may be after the last.
    stands, last = cases.randint(1, 3), cases.choice((None, 3))
    lots += [NightLot(cases.randrange(items), cases.randint(1, 9), last, stands)]
    # Item 3 is what item 0 is cooked from.
    sources = [
        Source(
            0, pick.choice((4, 5, 9)), tuple(range(days)), most=3, keeps=pick.choice((0, 1, None)),
            takes={3: pick.randint(1, 3)}, lead=pick.choice((0, 0, 1)),
        ),
        Source(
            1, pick.choice((3, 10)), (0,), 3, None, pick.randint(0, 1), pick.randint(1, 9),
            case=cases.choice((1, 1, 2)),
        ),
        Source(
            pick.choice((2, 3)), pick.choice((2, 6)), (pick.randrange(days),),
            keeps=pick.choice((0, 1)), most=2, cost=pick.randint(0, 5),
            case=cases.choice((1, 2)), free=cases.choice((0, 0, 1)),
        ),
    ]  # fmt: skip
    if cases.random() < 0.3:  # what comes of cooking item 0, beside it
        cooked = sources[0]
        sources.append(
            Source(
                cases.choice((1, 2)), cases.choice((2, 4)), cooked.days, most=2,
                keeps=cases.choice((0, 1, None)), lead=cooked.lead, beside=0,
            )
        )  # fmt: skip
    drinks = [
        NightDrink(
            {pick.randrange(3): pick.randint(1, 3), pick.randrange(3): pick.randint(1, 4)},
            *pick.choice(
                ((0, 10000, 3333), (2500, 7500, 5000), (0, 5000, 2500), (3000, 10000, 6500))
            ),
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
        capacities=[Capacity(frozenset(cases.sample(range(len(drinks)), 1)), cases.randint(0, 3))]
        if cases.random() < 0.3
        else [],
    )


def plans(question: Nights) -> Iterator[PlanValues]:
    """Every plan, whether it can be poured or not."""
    served = [list(_split(night.drinks, len(question.drinks))) for night in question.nights]
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
            yield PlanValues(tuple(serves), tuple(units))


def _split(drinks: int, kinds: int) -> Iterator[tuple[int, ...]]:
    if kinds == 1:
        yield (drinks,)
        return
    for first in range(drinks + 1):
        for rest in _split(drinks - first, kinds - 1):
            yield (first, *rest)


def count(question: Nights) -> int:
    """How many plans there are, about: those with too many are not for brute force."""
    whole = 1
    for night in question.nights:
        whole *= sum(1 for _ in _split(night.drinks, len(question.drinks)))
    for source in question.sources:
        whole *= (source.most + 1) ** sum(source.lead <= day for day in source.days)
    return whole


def few(most: int, first: int, cases: int) -> list[Nights]:
    """So many small questions, from a seed on, of no more plans than `most`."""
    found: list[Nights] = []
    for seed in itertools.count(first):
        question = small(seed)
        if count(question) <= most:
            found.append(question)
        if len(found) == cases:
            return found
    return found


def keeps_shares(question: Nights, plan: PlanValues) -> bool:
    """Whether every drink is within its limits on every night and in all, to the whole drink."""
    columns = [*plan.serves, tuple(map(sum, zip(*plan.serves, strict=True)))]
    for serves in columns:
        whole = sum(serves)
        for drink, count in zip(question.drinks, serves, strict=True):
            # count is over low - 1 and under high + 1, times the whole share
            low, high = drink.low * whole - WHOLE_SHARE, drink.high * whole + WHOLE_SHARE
            if not low < count * WHOLE_SHARE < high:
                return False
    return True


def forecast(question: Nights, seed: int = 0) -> Nights:
    """The same, with every drink's share stated to the whole drink."""
    pick = random.Random(seed)
    weights = [pick.uniform(0.5, 1.5) for _ in question.drinks]
    shares = [int(WHOLE_SHARE * each / sum(weights)) for each in weights]
    shares[0] += WHOLE_SHARE - sum(shares)
    pairs = zip(question.drinks, shares, strict=True)
    return replace(
        question, drinks=[NightDrink(d.takes, share, share, share) for d, share in pairs]
    )


def large(
    seed: int, *, days: int = 7, drinks: int = 25, house: int = 12, bottles: int = 80
) -> Nights:
    """A bar and its nights of about the size that bars have, in ticks of 0.01 mL.

    Of the bottles three are juices that are pressed, the house items are cooked from two raw
    stuffs, and the rest are bought and keep; a fifth of what is there is dated.
    """
    pick = random.Random(seed)
    juices, raw = 3, 2
    items = bottles + house + raw
    first_house, first_raw = bottles, bottles + house
    lots: list[NightLot] = []
    sources: list[Source] = []
    values = [pick.randint(200, 6000) for _ in range(items)]
    for item in range(bottles):
        juice = item < juices
        size = 100_000 if juice else pick.choice((70_000, 75_000, 100_000))
        last = pick.randint(0, days) if juice or pick.random() < 0.2 else None
        lots.append(NightLot(item, round(size * pick.uniform(0, 2.5)), last))
        cost = values[item] * size // 10_000
        ready, keeps = (tuple(range(days)), pick.choice((0, 1))) if juice else ((0,), None)
        sources.append(
            Source(
                item,
                2_800 if juice else size,
                ready,
                10**9,
                keeps,
                0,
                cost if not juice else cost // 35,
            )
        )
    for item in range(first_house, first_raw):
        lots.append(NightLot(item, pick.randint(50_000, 250_000), pick.randint(1, days + 3)))
        takes = {first_raw + pick.randrange(raw): pick.randint(30_000, 90_000)}
        sources.append(
            Source(
                item, pick.choice((100_000, 150_000, 300_000)), tuple(range(1, days)), 10**9,
                pick.choice((2, 5, 10)), takes=takes, lead=pick.choice((0, 1)),
            )
        )  # fmt: skip
    for item in range(first_raw, items):
        lots.append(NightLot(item, 400_000, None))
        sources.append(Source(item, 100_000, (0,), 10**9, cost=13_000))
    part = WHOLE_SHARE // drinks
    made = [
        NightDrink(
            {
                pick.randrange(juices, bottles): pick.choice((4_500, 6_000)),
                pick.randrange(juices, bottles): pick.choice((1_500, 2_250, 3_000)),
                pick.randrange(first_house, first_raw): pick.choice((750, 1_500, 2_250)),
                pick.randrange(juices): pick.choice((1_500, 2_250)),
            },
            0, 2 * part, part,
        )
        for _ in range(drinks)
    ]  # fmt: skip
    return with_source_bounds(
        Nights(
            days=days,
            values=values,
            lots=lots,
            sources=sources,
            drinks=made,
            nights=[Night(day, pick.randint(80, 160)) for day in range(days)],
            worth_unit=10**6,
            worth_costs=100,
            cost_within=100,
        )
    )
