"""How much less in keeping published drinks are than the best of their kind.

Each drink is taken out of the counts before it is judged. The sources of the drinks are in the
heads of association_specs.csv and book_1917.csv. After a change of counts, profiles or scores,
`python -m tests.outside.shortfalls` prints ingredients/counted/shortfalls.csv anew.
"""

from __future__ import annotations

import sys
from functools import cache
from pathlib import Path

from solver.drinks.fitting import parts_filled
from solver.harmony.counted import load_counts
from solver.harmony.dial import Dial
from solver.harmony.harmony import Harmony, Known, worth_of
from solver.harmony.rank_among_published import best_worth
from solver.pantry.load_bar import load_bar
from solver.pantry.pour import Pour
from solver.pantry.profile import Profile
from solver.pantry.profile_files import load_profiles
from solver.quantities import parse_pour
from tests.profile_tables import Poured, recipe_rows, table_rows

DATA = Path(__file__).parent / "data"
CORPORA = {"association": "association_specs.csv", "book_1917": "book_1917.csv"}
HEAD = """\
# How much less in keeping published drinks are than the best of their profile from the whole
# library, at each step of the dial: in natural logarithms, 0 being as much. One line for each drink
# of the association's recipes and of the book of 1917 (see sources.toml) that a built-in profile
# takes; the profile and the parts are our reading. Each drink was taken out of the counts before it
# was judged; whoever wrote what profiles call usual knew the association's. Computed from the files
# of this folder and from profiles/.
"""
BAR = load_bar(None)
COUNTS = load_counts()


def rows() -> list[tuple[str, str, tuple[float, ...]]]:
    """Where each drink was printed, its profile, and its shortfall at each step of the dial."""
    return [
        (corpus, profile, shortfalls(profiles()[profile], pours))
        for corpus, file in CORPORA.items()
        for (_, profile), pours in recipe_rows(DATA / file).items()
    ]


def shortfalls(profile: Profile, pours: list[Poured]) -> tuple[float, ...]:
    """How much less a drink is worth than the best of its profile, by the dial."""
    drink = parted(profile, pours)
    flavours = frozenset(COUNTS.flavour(key) for _, key in drink)
    printed = flavours in counted()
    of = Harmony(
        Known(profile, BAR.library, COUNTS.without(flavours)) if printed else known(profile.name)
    )
    filling = of.ingredient_set(drink)
    assert filling is not None, drink
    found: list[float] = []
    for dial in Dial:
        of.dial = dial
        worth = of.question().worth(filling)
        assert worth is not None, drink
        found.append(best(profile.name, dial) - worth_of(worth))
    return tuple(found)


def parted(profile: Profile, pours: list[Poured]) -> list[tuple[str, str]]:
    """The part and the ingredient of each pour that fills a part."""
    read = [
        Pour(BAR.library.find(p.ingredient), amount.value, "jigger", part=p.part)
        for p in pours
        for amount in (parse_pour(p.amount, BAR.measures),)
    ]
    fills = parts_filled(read, profile, BAR)
    return [(part.name, p.ingredient) for part, p in zip(fills, pours, strict=True) if part]


@cache
def known(profile: str) -> Known:
    return Known(profiles()[profile], BAR.library, COUNTS)


@cache
def best(profile: str, dial: Dial) -> float:
    return best_worth(known(profile), dial)


@cache
def profiles() -> dict[str, Profile]:
    return {profile.name: profile for profile in load_profiles()}


@cache
def counted() -> frozenset[frozenset[str]]:
    """The drinks that are counted, by what they pour."""
    drinks: dict[str, set[str]] = {}
    for row in table_rows(DATA / "published_drinks.csv"):
        drinks.setdefault(row["corpus"] + row["drink"], set()).add(
            COUNTS.flavour(row["ingredient"])
        )
    return frozenset(map(frozenset, drinks.values()))


def main() -> None:
    """Print the file."""
    sys.stdout.write(HEAD)
    sys.stdout.write(",".join(("printed_in", "profile", *Dial)) + "\n")
    for corpus, profile, values in rows():
        sys.stdout.write(",".join((corpus, profile, *(f"{v:.4f}" for v in values))) + "\n")


if __name__ == "__main__":
    main()
