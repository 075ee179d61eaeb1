"""Print what a design takes beyond start-up: python -m tests.bench.designs [BOTTLES]...

Every built-in profile, by what is most in keeping: on the demonstration's bar, on the whole
library, and on shelves of so many bottles, a draw from the library, with bottles of a house where
that has no more. House bottles differ from what they are like in strength or sugar; of half of
them the bar says what they are like, of the rest nothing is known. Seconds are of processor time,
so that others at work beside count for little. "open" is what was not proven within the limit of
60 s.
"""

from __future__ import annotations

import random
import statistics
import sys
import time
from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path

from solver.pantry.bar import Bar
from solver.pantry.figure import Figure
from solver.pantry.ingredient import Ingredient
from solver.pantry.load_bar import load_bar
from solver.pantry.profile import Profile
from solver.pantry.profile_files import load_profiles
from solver.pantry.stocked import Stocked, in_order
from solver.requests.request import Request
from solver.search.milp.cpsat import CpSat
from solver.tasks.design import design
from solver.tasks.design_result import Status

DEMO = Path(__file__).parents[2] / "demo"
SIZES = (200, 1000, 2000)


def shelf(count: int) -> Bar:
    """A bar with so many bottles."""
    bar, rng = load_bar(None), random.Random(1)
    stock = list(bar.stock)
    rng.shuffle(stock)
    models = [row.ingredient for row in stock if row.ingredient.tool == "jigger"]
    own = [house(rng.choice(models), rng, number) for number in range(count - len(stock))]
    rows = [*stock[:count], *map(Stocked, own)]
    return replace(bar, library=bar.library.shadowed_by(own), stock=in_order(rows))


def house(model: Ingredient, rng: random.Random, number: int) -> Ingredient:
    """A bottle like another, somewhat weaker or less sweet."""
    factor = rng.uniform(0.9, 1.0)
    figures = {
        name: Figure(
            value=getattr(model, name).value * factor, basis="estimate", source="for a measurement"
        )
        for name in ("abv", "sugar")
    }
    said = {"like": model.key} if number % 2 else {}
    named = {"key": f"house-{number}", "name": f"house {number}", "aliases": ()}
    return model.model_copy(update={**named, **figures, **said})


def timed(profile: Profile, bar: Bar) -> tuple[float, str, bool]:
    """Seconds of processor time, of what, and whether it was proven."""
    started = time.process_time()
    found = design(profile, bar, Request(), CpSat())
    return time.process_time() - started, profile.name, found.status is not Status.STOPPED


def bars(sizes: list[int]) -> Iterator[tuple[str, Bar]]:
    """The bars of the table."""
    yield "demo bar", load_bar(DEMO)
    yield "whole library", load_bar(None)
    for size in sizes:
        yield f"{size:,} bottles", shelf(size)


def main() -> None:
    """Print the table."""
    sys.stdout.write(f"{'':<20}{'median s':>10}{'longest':>10}{'open':>6}\n")
    for says, bar in bars([int(each) for each in sys.argv[1:]] or list(SIZES)):
        profiles = load_profiles(bar.profiles)
        timed(profiles[0], bar)  # imports and files are read once
        runs = [timed(profile, bar) for profile in profiles]
        seconds = statistics.median(each for each, _, _ in runs)
        longest, name, _ = max(runs)
        unproven = sum(not proven for _, _, proven in runs)
        row = f"{says:<20}{seconds:>10.3f}{longest:>10.3f}{unproven:>6}  {name}"
        sys.stdout.write(f"{row}\n")
        sys.stdout.flush()


if __name__ == "__main__":
    main()
