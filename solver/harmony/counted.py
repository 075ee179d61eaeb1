"""Reads the counts of published drinks: small tables, their source beside them."""

from __future__ import annotations

from collections.abc import Mapping
from functools import cache
from pathlib import Path
from typing import Any

import tomli

from solver.harmony.counts import Counts, Loud, Rule, UsualPour, pair
from solver.harmony.dial import Dial
from solver.harmony.rank_among_published import Standing
from solver.pantry.folders import data_folder


@cache
def load_counts() -> Counts:
    """The built-in counts."""
    return read_counts(data_folder("ingredients") / "counted")


@cache
def load_standing(dial: Dial) -> Standing:
    """How much less in keeping published drinks are than the best of their kind."""
    lines = _rows(data_folder("ingredients") / "counted" / "shortfalls.csv")
    column = 2 + list(Dial).index(dial)
    return Standing(tuple(sorted(float(row[column]) for row in lines)))


def read_counts(folder: Path) -> Counts:
    """The counts of a folder of tables that were made together, as the built-in ones are."""
    drinks = _rows(folder / "drinks.csv")
    return Counts(
        drinks=_toml(folder / "sources.toml")["all"],
        poured={row[0]: int(row[-1]) for row in drinks},
        kind={row[0]: row[1] for row in drinks},
        role={row[0]: row[2] for row in drinks},
        met={pair(row[0], row[1]): int(row[-1]) for row in _rows(folder / "pairs.csv")},
        alike={row[0]: row[1] for row in _rows(folder / "alike.csv")},
        not_counted={row[0]: row[1] for row in _rows(folder / "not-counted.csv")},
        pours={
            row[0]: UsualPour(int(row[1]), *map(float, row[2:5]))
            for row in _rows(folder / "pours.csv")
        },
        loud={row[0]: Loud(row[1], float(row[2])) for row in _rows(folder / "loud.csv")},
        practice=tuple(map(_rule, _toml(folder / "practice.toml")["rules"])),
    )


def _toml(path: Path) -> dict[str, Any]:
    return tomli.loads(path.read_text(encoding="utf-8"))


def _rule(table: Mapping[str, str]) -> Rule:
    goes = "goes_with" in table
    return Rule(table["one"], table["goes_with" if goes else "not_with"], goes, table["says"])


def _rows(path: Path) -> list[list[str]]:
    """The cells of every line below the column names; lines that begin with # are left out.

    No cell of these tables is quoted, and every design reads them: splitting at commas takes half
    the time of the csv module.
    """
    lines = path.read_text(encoding="utf-8").splitlines()
    return [line.split(",") for line in lines if line[:1] != "#"][1:]
