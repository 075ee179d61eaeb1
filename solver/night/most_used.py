"""Upper bounds on what drinks and recipes could use, from the question alone.

Without them a relaxation buys what nobody could pour.
"""

from __future__ import annotations

from dataclasses import replace

from solver.night.problem import Nights


def with_most(question: Nights) -> Nights:
    """The question with an upper bound on each source: what drinks and recipes could use."""
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

    def most_units(at: int) -> int:
        source = sources[at]
        spare = len(source.days) if source.keeps is not None else 1
        return -(-most(source.item) // source.size) + spare - 1

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
