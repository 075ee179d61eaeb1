"""The words of cards and other pages, by language: one file of the same keys for each."""

from __future__ import annotations

import tomllib
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from pathlib import Path
from typing import Any

from solver.errors import BadInput
from solver.show.names_in_a_row import listed

FOLDER = Path(__file__).parent


@dataclass(frozen=True)
class Words:
    """The words of one language, by table and key."""

    table: Mapping[str, Any]

    @property
    def language(self) -> str:
        """Its code, as pages declare it: "en"."""
        return str(self.table["language"])

    def say(self, table: str, key: str, /, **filling: str) -> str:
        """The words of a key, with what stands in braces filled in."""
        return str(self.table[table][key]).format_map(filling)

    def number(self, value: float, decimals: int) -> str:
        """A number as it is written in this language."""
        return f"{value:.{decimals}f}".replace(".", str(self.table["decimal"]))

    def listed(self, names: list[str]) -> str:
        """Names in a row, the last one joined by "and"."""
        return listed(names, str(self.table["and"]))


def languages() -> tuple[str, ...]:
    """The languages there are, by their codes."""
    return tuple(sorted(path.stem for path in FOLDER.glob("*.toml")))


@cache
def words_of(language: str) -> Words:
    """The words of a language.

    Raises:
        BadInput: there is no file of it.
    """
    if language not in languages():
        what = f"'{language[:20]}' is not a language known here"
        raise BadInput(what, remedy=f"Known: {', '.join(languages())}.")
    with (FOLDER / f"{language}.toml").open("rb") as file:
        return Words(tomllib.load(file))
