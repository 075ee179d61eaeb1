"""Specs: the written recipes of a bar's drinks."""

from __future__ import annotations

import datetime
from dataclasses import dataclass
from pathlib import Path
from typing import Annotated

from pydantic import Field

from solver.errors import BadInput, BadInputs, Where
from solver.files.atomic import FilePlace, settled
from solver.files.checked import FileReading, Model, Number, Prose, Text, check, gather
from solver.files.folders import toml_files
from solver.files.near_words import near_words
from solver.files.read import ABSENT, Version
from solver.files.toml import KeyPath, TomlText, read_toml
from solver.pantry.library import Library, fold, slug
from solver.pantry.pour import Pour
from solver.pantry.profile import Stage, TechniqueName
from solver.pantry.text_types import Amount, Currency, Moves
from solver.pantry.word_forms import spelt_so
from solver.printable import short
from solver.quantities import Measures, parse_pour


class SpecPour(Model):
    """One line of a spec: an amount, as written, of an ingredient by key, name or alias."""

    ingredient: Text = Field(description="What is poured: a key, name or alias.")
    amount: Amount = Field(description='How much of it, like amount = "3/4 oz".')
    part: Text | None = Field(
        default=None,
        description="The part of its profile that it fills; without it, the one that takes it.",
    )
    stage: Stage | None = Field(
        default=None, description="When it is poured; without it, as the profile says."
    )
    moves: Moves | None = Field(
        default=None,
        description="If it is poured otherwise when the drink is; without it, as the profile says.",
    )


class Approved(Model):
    """What the drink was in the glass when somebody approved it: the profile it must keep.

    `cost` is in `currency`; None where a price was not known.
    """

    date: Annotated[datetime.date, Field(strict=True)] = Field(
        description="The day that somebody approved it."
    )
    abv_pct: Annotated[Number, Field(le=100)] = Field(
        description="Its strength in the glass, % vol."
    )
    sugar_g_100ml: Number = Field(description="Its sugar, grams in 100 mL.")
    acid_g_100ml: Number = Field(description="Its acid as citric acid, grams in 100 mL.")
    volume_ml: Number = Field(description="Its volume in the glass, mL.")
    ethanol_g: Number = Field(description="Its alcohol, grams.")
    cost: Number | None = Field(default=None, description="What it cost.")
    currency: Currency | None = Field(default=None, description="The currency of that cost.")


WORST, BEST = 1, 5
"""Scores of a tasting: never again, and on the card."""


class Tasting(Model):
    """What somebody at the bar thought of the drink on a day, from WORST to BEST, and why.

    `poured` is what was in it, by key; with none it was what the spec pours.
    """

    date: Annotated[datetime.date, Field(strict=True, description="The day, like 2026-05-08.")]
    score: Annotated[
        int,
        Field(
            strict=True, ge=WORST, le=BEST, description="From 1, never again, to 5, for the card."
        ),
    ]
    words: Prose | None = Field(default=None, description="Why, in a few words.")
    poured: tuple[Text, ...] = Field(
        default=(), description="What was in it then; without it, what the spec pours."
    )


class Spec(Model):
    """A drink's written recipe. `technique` and `glass` None: as its profile says.

    `steps` are how it is made in the bar's own words; with none they follow from everything else.
    `origin` is the file that it was read from, and `version` tells whether that still says so.
    """

    name: Text = Field(description='What the drink is called, like name = "Slow Tide".')
    profile: Text | None = Field(default=None, description="The profile that it keeps to.")
    technique: TechniqueName | None = Field(
        default=None, description="How it is made; without it, as its profile says."
    )
    glass: Text | None = Field(
        default=None, description="What it is served in; without it, as its profile says."
    )
    garnish: Text | None = Field(default=None, description="What goes on it.")
    notes: Prose | None = Field(default=None, description="Anything worth remembering.")
    steps: tuple[Text, ...] = Field(
        default=(),
        description="How it is made, in the bar's own words; else that follows from the rest.",
    )
    pours: Annotated[tuple[SpecPour, ...], Field(min_length=1)] = Field(
        description="What is poured."
    )
    approved: Approved | None = Field(
        default=None,
        description="What it was when somebody approved it; `assess --approve` writes it.",
    )
    tasted: tuple[Tasting, ...] = Field(
        default=(), description="What the bar thought of it; `tasted` writes it."
    )
    origin: Path | None = None
    version: Version = ABSENT

    @property
    def written_steps(self) -> str:
        """The steps as one text, empty without any: they may name what no pour does, a rinse."""
        return "\n".join(self.steps)

    @property
    def place(self) -> FilePlace | None:
        """Where it can be written back; None for a spec that is in no file."""
        return FilePlace(self.origin, self.version) if self.origin else None

    def where(self, keys: KeyPath) -> Where:
        """The line that says what `keys` lead to."""
        return read_toml(self.origin).where(keys) if self.origin else Where(f"spec {self.name}")

    def poured(self, library: Library, measures: Measures) -> tuple[Pour, ...]:
        """The pours as amounts of ingredients of `library`, which may hold the bar's own figures.

        Raises:
            BadInput, BadInputs: everything that can't be read or is not known, with its line.
        """
        reading = FileReading(self)
        found: list[Pour] = []
        for index, pour in enumerate(self.pours):
            keys: list[str | int] = ["pours", index]
            ingredient = reading.take([*keys, "ingredient"], None, library.find, pour.ingredient)
            amount = reading.take([*keys, "amount"], None, parse_pour, pour.amount, measures)
            if ingredient is None or amount is None:
                continue
            place, nothing = [*keys, "amount"], (ingredient, 0.0)
            item, units = reading.take(place, nothing, library.pieces.poured, ingredient, amount)
            tool = amount.tool or item.tool
            found.append(Pour(item, units, tool, amount, pour.part or "", pour.stage))
        reading.finish()
        return tuple(found)


def read_spec(path: Path) -> Spec:
    """The spec in a file.

    Raises:
        BadInput, BadInputs: everything that is wrong with it, each with its line.
    """
    return spec_in(read_toml(path))


def spec_in(file: TomlText) -> Spec:
    """The spec that a file says.

    Raises:
        BadInput, BadInputs: everything that is wrong with it, each with its line.
    """
    own = {"origin": file.path, "version": file.version}
    return check(Spec, {**file.data, **own}, file)


@dataclass(frozen=True)
class Misread:
    """A spec's file that says something wrong, and what."""

    path: Path
    error: BadInput | BadInputs


@dataclass(frozen=True)
class SpecFiles:
    """The specs of a folder, by file name, and the files that cannot be read."""

    specs: tuple[Spec, ...] = ()
    misread: tuple[Misread, ...] = ()


def spec_files(folder: Path | None) -> SpecFiles:
    """Every spec in a folder; a mistake in one of the files leaves the others as they are.

    Nothing for None or where there is no such folder.
    """
    if folder is None:
        return SpecFiles()
    with settled(folder.parent):
        return _spec_files(folder)


def _spec_files(folder: Path) -> SpecFiles:
    found: list[Spec] = []
    misread: list[Misread] = []
    named: dict[str, Path] = {}
    for path in toml_files(folder):
        try:
            spec = read_spec(path)
            earlier = named.setdefault(fold(spec.name), path)
            if earlier is not path:
                what = f"the name '{short(spec.name)}' is taken"
                raise BadInput(what, where=spec.where(["name"]), why=f"by {earlier.name}")
            found.append(spec)
        except (BadInput, BadInputs) as error:
            misread.append(Misread(path, error))
    return SpecFiles(tuple(found), tuple(misread))


def read_specs(folder: Path | None) -> tuple[Spec, ...]:
    """Every spec in a folder, by file name; none for None or where there is no such folder.

    Raises:
        BadInput, BadInputs: everything that is wrong with the files, each with its line.
    """
    found = spec_files(folder)
    gather([each.error for each in found.misread])
    return found.specs


def is_spec_file(text: str, folder: Path | None) -> bool:
    """Whether a file in `folder` has that name, whatever its case."""
    return folder is not None and slug(text) in {path.stem for path in toml_files(folder)}


def find_spec(text: str, folder: Path | None) -> Spec:
    """The spec in `folder` of that name or file name, whatever its case.

    In plain letters too, where no other is called so.

    Raises:
        BadInput, BadInputs: there is none, or its file is wrong.
    """
    wanted = fold(text)
    files = {path.stem: path for path in toml_files(folder)} if folder else {}
    stem = slug(text)
    if stem in files:
        return read_spec(files[stem])
    found = spec_files(folder)
    for spec in found.specs:
        if fold(spec.name) == wanted:
            return spec
    spelt = spelt_so(wanted, [spec.name for spec in found.specs])
    if spelt is not None:
        return next(spec for spec in found.specs if spec.name == spelt)
    what = f"'{short(text)}' is not a spec of this bar"
    near = near_words(stem, files)
    remedy = "" if near else "See `equipour specs`."
    unknown = BadInput(what, near=near, remedy=remedy)
    gather([unknown, *(each.error for each in found.misread)])  # it may be one of those
    raise unknown
