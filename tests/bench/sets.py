"""Print how long sets of ingredients take: python -m tests.bench.sets [--rows].

Every built-in profile on the demonstration's bar, on the whole library, and on the library with
bottles of a house beside it, up to two thousand, some like what is counted, some of their own.
Times are of this machine and this run; the longest is named with its profile. With `--rows`, the
same question is asked of CP-SAT, for its best set alone.
"""

from __future__ import annotations

import itertools
import random
import statistics
import sys
import time
from collections.abc import Callable, Iterable
from functools import partial
from pathlib import Path

from solver.clock import Clock, TimeUpError
from solver.harmony.counted import load_counts
from solver.harmony.harmony import Harmony, Known
from solver.harmony.taste import BarTaste, SaidOfIngredient
from solver.pantry.figure import Figure
from solver.pantry.ingredient import Ingredient
from solver.pantry.load_bar import load_bar
from solver.pantry.profile import Profile
from solver.pantry.profile_files import load_profiles
from solver.pantry.vocabulary import CHARACTERS
from solver.search.milp.backend import Effort
from solver.search.milp.cpsat import CpSat
from solver.search.sets.best_first import best_first
from solver.search.sets.set_question import SetQuestion
from tests.search.best_set import best_set

DEMO = Path(__file__).parents[2] / "demo"
LIMIT_S = 60.0
FIRST = 300
NOTHING = Figure(value=0, basis="estimate", source="made up for a measurement")


def house(library: Iterable[Ingredient], count: int) -> tuple[list[Ingredient], BarTaste]:
    """So many bottles of a house, and what the bar says of them."""
    rng = random.Random(1)
    models = [each for each in library if each.tool == "jigger"]
    made: list[Ingredient] = []
    said: dict[str, SaidOfIngredient] = {}
    for number in range(count):
        model = rng.choice(models)
        key = f"house-{number}"
        tastes = rng.sample(sorted(CHARACTERS), 2)
        made.append(
            Ingredient(
                key=key,
                name=key.replace("-", " "),
                kind=model.kind,
                character=tuple(tastes),
                abv=NOTHING,
                sugar=NOTHING,
                acid=NOTHING,
                tool="jigger",
            )
        )
        if number % 2:
            said[key] = SaidOfIngredient(like=model.key)
        elif number % 10 == 0:
            said[key] = SaidOfIngredient(goes_with=(rng.choice(models).key,))
    return made, BarTaste(said=said)


def timed(name: str, run: Callable[[], object]) -> tuple[float, str]:
    """How long a run takes, in seconds, and of which profile it is."""
    started = time.perf_counter()
    run()
    return time.perf_counter() - started, name


def row(says: str, runs: list[tuple[float, str]]) -> None:
    """A line of the table."""
    seconds, name = max(runs)
    median = statistics.median(each for each, _ in runs)
    sys.stdout.write(f"{says:<34}{median:>10.4f}{seconds:>10.4f}  {name}\n")
    sys.stdout.flush()


def first(question: SetQuestion, count: int) -> list[object]:
    """The first sets of a question."""
    return list(itertools.islice(best_first(question, Clock.of(LIMIT_S)), count))


def rows(question: SetQuestion) -> object:
    """The best set by CP-SAT; None where it had no time."""
    try:
        return best_set(question, CpSat(), Effort(LIMIT_S, proof=True))
    except TimeUpError:
        return None


def measured(says: str, folder: Path | None, count: int, *, by_rows: bool) -> None:
    """The lines of one bar, with so many bottles of the house."""
    bar = load_bar(folder)
    own, taste = house(bar.library, count)
    stock, library = [*(item.ingredient for item in bar.stock), *own], [*bar.library, *own]
    made: dict[str, Harmony] = {}

    def make(profile: Profile) -> None:
        made[profile.name] = Harmony(Known(profile, library, load_counts(), taste), stock)

    profiles = load_profiles()
    make(profiles[0])  # imports and files are read once
    row(f"{says}: worths", [timed(each.name, partial(make, each)) for each in profiles])
    questions = {name: of.question() for name, of in made.items()}
    for most in (1, FIRST):
        runs = [timed(name, partial(first, each, most)) for name, each in questions.items()]
        row(f"{says}: first {most}", runs)
    if by_rows:
        runs = [timed(name, partial(rows, each)) for name, each in questions.items()]
        row(f"{says}: CP-SAT", runs)


def main() -> None:
    """Print the table."""
    by_rows = "--rows" in sys.argv
    sys.stdout.write(f"{'':<34}{'median s':>10}{'longest':>10}\n")
    measured("demo bar", DEMO, 0, by_rows=by_rows)
    measured("whole library", None, 0, by_rows=by_rows)
    measured("1,000 bottles", None, 760, by_rows=by_rows)
    measured("2,000 bottles", None, 1760, by_rows=by_rows)


if __name__ == "__main__":
    main()
