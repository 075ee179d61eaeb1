"""Print what is most in keeping: python -m tests.bench.in_keeping [--bar FOLDER] [--dial STEP]
[--count N] [--why] [--with KEY]... [PROFILE]...

For each profile, all by default, the sets of ingredients that come first in the order of harmony,
whether or not any pours of them are on target: to be read as a bartender would. With `--why`, what
the first is worth, part by part and pair by pair.
"""

from __future__ import annotations

import argparse
import itertools
import sys
import time
from pathlib import Path

from solver.clock import Clock
from solver.harmony.counted import load_counts
from solver.harmony.dial import Dial
from solver.harmony.evidence import Evidence
from solver.harmony.harmony import SCALE, BottleWish, Harmony, Known
from solver.pantry.bar import Bar
from solver.pantry.load_bar import load_bar
from solver.pantry.profile import Profile
from solver.pantry.profile_files import load_profiles
from solver.search.sets.best_first import best_first


def harmony_of(profile: Profile, bar: Bar, dial: Dial) -> Harmony:
    """What is in keeping on a bar."""
    stock = [row.ingredient for row in bar.stock]
    return Harmony(Known(profile, bar.library, load_counts()), stock, dial=dial)


def main() -> None:
    """Print the lists."""
    parser = argparse.ArgumentParser()
    parser.add_argument("--bar", type=Path)
    parser.add_argument("--dial", type=Dial, default=Dial.FAMILIAR)
    parser.add_argument("--count", type=int, default=10)
    parser.add_argument("--why", action="store_true")
    parser.add_argument("--with", dest="wanted", action="append", default=[])
    parser.add_argument("profiles", nargs="*")
    asked = parser.parse_args()
    bar = load_bar(asked.bar)
    for profile in load_profiles(bar.profiles):
        if asked.profiles and profile.name not in asked.profiles:
            continue
        started = time.perf_counter()
        harmony = harmony_of(profile, bar, asked.dial)
        wishes = [BottleWish(frozenset({key}), low=1) for key in asked.wanted]
        question = harmony.question(wishes)
        found = list(itertools.islice(best_first(question, Clock.of(30.0)), asked.count))
        seconds = time.perf_counter() - started
        sys.stdout.write(f"\n{profile.name} ({seconds:.3f} s)\n")
        for rank, each in enumerate(found, 1):
            names = ", ".join(harmony.flavours[i].name for i in each.poured)
            sys.stdout.write(f"{rank:4} {each.worth / SCALE:7.2f}  {names}\n")
        if asked.why and found:
            sys.stdout.write(why(harmony.evidence(found[0].ingredients)))


def why(evidence: Evidence) -> str:
    """What a set is worth, line by line."""
    lines: list[str] = []
    for part in evidence.parts:
        filled = ", ".join(f"{f.name} {s.share:.1%}" for f, s in part.filled) or "nothing"
        lines.append(
            f"     {part.worth:7.2f}  {part.part}: {filled}; so many {part.count_share:.0%}"
        )
    for pair in evidence.pairs:
        said = "not known"
        if pair.printed and pair.kinds:
            met, kinds = pair.printed, pair.kinds
            said = f"{met.met} of {met.drinks}, {met.expected:.1f} by chance"
            said += f"; their kinds {kinds.met}, {kinds.expected:.1f}"
        lines.append(
            f"     {pair.worth:7.2f}  {pair.one.name} + {pair.other.name}: {said} {pair.practice}"
        )
    lines.append(f"     unknown: {', '.join(each.name for each in evidence.unknown) or 'nothing'}")
    return "\n".join(lines) + "\n"


if __name__ == "__main__":
    main()
