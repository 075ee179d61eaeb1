"""Upper bounds on the units of each source, by what drinks and recipes could use (presolve).

Without them relaxations buy what nobody could pour; and plans cook what nobody pours, only so that
less spoils.
"""

from __future__ import annotations

from dataclasses import replace

from solver.night.problem import Nights, Source


def with_source_bounds(question: Nights) -> Nights:
    """The question with at most so many units of each source as drinks and recipes could use."""
    _, units = most_needed(question)
    return replace(
        question,
        sources=[
            replace(source, most=min(source.most, most))
            for source, most in zip(question.sources, units, strict=True)
        ],
    )


def most_needed(question: Nights) -> tuple[tuple[int, ...], tuple[int, ...]]:
    """Upper bounds on what drinks and recipes could use: ticks by item, units by source."""
    sources = question.sources
    poured = [
        sum(
            night.drinks * max((d.takes.get(item, 0) for d in question.drinks), default=0)
            for night in question.nights
        )
        for item in range(len(question.values))
    ]
    needed: dict[int, int] = {}

    used = {item for source in sources for item in source.takes}
    begins = min((night.day for night in question.nights if night.drinks), default=0)
    there = [
        _there_all_along(question, item, 0 if item in used else begins)
        for item in range(len(question.values))
    ]

    def most_units(at: int) -> int:
        by_products = (k for k, source in enumerate(sources) if source.beside == at)
        return max(map(own_units, (at, *by_products)))

    def own_units(at: int) -> int:
        source = sources[at]
        missing = max(0, most(source.item) - there[source.item])
        units = -(-missing // source.size)
        return units and units + _spare(question, source, cooked_from=source.item in used)

    def most(item: int) -> int:
        if item not in needed:
            needed[item] = poured[item] + sum(
                source.takes[item] * most_units(at)
                for at, source in enumerate(sources)
                if item in source.takes
            )
        return needed[item]

    return (
        tuple(most(item) for item in range(len(question.values))),
        tuple(most_units(at) for at in range(len(sources))),
    )


def _there_all_along(question: Nights, item: int, begins: int) -> int:
    """Ticks of an item that may be poured on every day of the plan from one on."""
    lots = (lot for lot in question.lots if lot.item == item and lot.first <= begins)
    return sum(lot.amount for lot in lots if lot.last is None or lot.last >= question.days - 1)


def _spare(question: Nights, source: Source, *, cooked_from: bool) -> int:
    """Units beyond what could be used, since part of others may spoil; 0 if units keep to the end.

    Of the rest each day that takes some may leave a part of one unit. (What is poured on `n` days
    out of lots is poured so that no more than n of them are neither full nor emptied: a basic
    solution of a transport problem is a forest.)
    """
    days = [day for day in source.days if source.lead <= day < question.days]
    if not days or source.keeps is None or min(days) + source.keeps >= question.days - 1:
        return 0
    nights = len({night.day for night in question.nights if night.drinks})
    return max(0, (len(days) if cooked_from else min(len(days), nights)) - 1)
