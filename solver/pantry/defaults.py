"""The built-in settings, each read once: glasses, pour sets, countries, and how a bar works."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from functools import cache
from typing import Any

from solver.errors import BadInput
from solver.files.checked import Model, Number, Text, check
from solver.files.near_words import near_words
from solver.files.toml import TomlText, read_toml
from solver.pantry.countries import Jurisdiction, named, read_currencies, read_jurisdictions
from solver.pantry.figure import Basis
from solver.pantry.folders import GLASSES, POUR_SETS, PRACTICE
from solver.pantry.ingredient import Ingredient
from solver.pantry.pour_set import PourSet
from solver.pantry.text_types import PartKind
from solver.pantry.word_forms import without_accents
from solver.printable import short


class Glass(Model):
    """A glass: mL to the brim, the least and the most, and mL of liquid to the wash line."""

    name: Text
    says: str = ""
    brim_low_ml: Number
    brim_high_ml: Number
    wash_line_ml: Number
    serve: str = ""
    basis: Basis
    source: Text


class MovedKinds(Model):
    """What of a drink moves when it is poured anew, where no profile says: kinds, or families."""

    first: tuple[PartKind, ...]
    never: tuple[PartKind, ...]
    basis: Basis
    source: Text

    def of(self, item: Ingredient) -> str:
        """When a pour of an ingredient moves, as one of the words `MOVES`."""
        for word, kinds in (("first", self.first), ("never", self.never)):
            if any(map(item.is_kind, kinds)):
                return word
        return "last"


class HandError(Model):
    """How far what is measured strays from what is written, either way.

    The larger of a `share` of it and `least`, in mL, or in g of what is weighed.
    """

    share: Number
    least: Number
    basis: Basis
    source: Text

    def of(self, amount: float) -> float:
        """How far `amount` strays, in its unit."""
        return max(self.share * amount, self.least)


class FreshKinds(Model):
    """Kinds of what differs from one day to the next: their figures are ranges."""

    kinds: tuple[PartKind, ...]
    basis: Basis
    source: Text


@dataclass(frozen=True)
class Defaults:
    """Everything that holds where a bar's files say nothing, by name.

    `currencies` are codes by jurisdiction, of those that have one; `hand_errors` are by tool.
    """

    glasses: Mapping[str, Glass]
    pour_sets: Mapping[str, PourSet]
    jurisdictions: Mapping[str, Jurisdiction]
    currencies: Mapping[str, str]
    moves: MovedKinds
    hand_errors: Mapping[str, HandError]
    fresh: FreshKinds

    def pour_set(self, name: str) -> PourSet:
        """The built-in pour set called `name`.

        Raises:
            BadInput: there is none.
        """
        if name not in self.pour_sets:
            raise _unknown(name, "a pour set", self.pour_sets)
        return self.pour_sets[name]

    def jurisdiction(self, name: str) -> Jurisdiction:
        """The jurisdiction called `name`, whatever its case, points and accents: "U.S.", "usa".

        Raises:
            BadInput: there is none.
        """
        said = _letters(name)
        for item in self.jurisdictions.values():
            if said in map(_letters, (item.name, *item.also)):
                return item
        raise _unknown(name, "a jurisdiction", self.jurisdictions)


@cache
def _letters(name: str) -> str:
    return "".join(sign for sign in without_accents(name) if sign.isalpha())


def _unknown(name: str, article: str, known: Iterable[str]) -> BadInput:
    names = {item.lower(): item for item in known}
    near = [names[word] for word in near_words(name, names)]
    what = f"'{short(name)}' is not {article} known here"
    return BadInput(what, near=near, remedy=f"Known: {', '.join(names.values())}.")


@cache
def load_defaults() -> Defaults:
    """The built-in settings."""
    glasses, practice = read_toml(GLASSES), read_toml(PRACTICE)
    return Defaults(
        glasses={
            name: _glass(name, table, glasses) for name, table in glasses.data["glasses"].items()
        },
        pour_sets=named(PourSet, read_toml(POUR_SETS), "pour_sets"),
        jurisdictions=read_jurisdictions(),
        currencies=read_currencies(),
        moves=check(MovedKinds, practice.data["moves"], practice, ["moves"]),
        hand_errors={
            tool: check(HandError, table, practice, ["hand_errors", tool])
            for tool, table in practice.data["hand_errors"].items()
        },
        fresh=check(FreshKinds, practice.data["fresh"], practice, ["fresh"]),
    )


def _glass(name: str, table: Mapping[str, Any], file: TomlText) -> Glass:
    rest = {key: value for key, value in table.items() if key not in ("brim", "wash_line")}
    low, high = table["brim"]
    size = {"brim_low_ml": low, "brim_high_ml": high, "wash_line_ml": table["wash_line"]}
    return check(Glass, rest | size | {"name": name}, file, ["glasses", name])
