"""Save a designed drink as a spec of the bar."""

from __future__ import annotations

import datetime
import math
import re
from pathlib import Path

from solver.drinks.answer import Answer
from solver.drinks.approval import approved_profile
from solver.errors import BadInput, Where
from solver.files.atomic import FilePlace
from solver.files.checked import check
from solver.files.read import ABSENT, version_at
from solver.files.toml import KeyPath
from solver.pantry.bar import Bar
from solver.pantry.ingredient import Ingredient
from solver.pantry.library import fold, slug
from solver.pantry.spec import Spec, SpecPour, spec_files
from solver.printable import short
from solver.quantities import parse_pour, show_amount
from solver.tasks.design_result import Design

_SAME = 1e-6
"""Share by which a written pour may differ from the one that was proven: rounding only."""


def place_for(name: str, bar: Bar, *, replace: bool) -> FilePlace:
    """The file of a new spec called `name`.

    Raises:
        BadInput: there is no bar to save into, the name makes no file name or is taken, the file
            is of a spec with another name, or (without `replace`) it is there.
    """
    specs = check_saving(bar)
    slug = "-".join(re.findall(r"\w+", name.casefold()))[:60].strip("-")
    if not slug or not name.isprintable():
        what = f"'{short(name)}' cannot be the name of a spec"
        raise BadInput(what, remedy="Write it like 'Slow Tide'.")
    place = specs / f"{slug}.toml"
    version = version_at(place)
    known = spec_files(specs).specs
    there = next((spec for spec in known if spec.origin == place), None)
    if there is not None and fold(there.name) != fold(name):
        what = f"'{short(name)}' would be in the file of '{short(there.name)}'"
        why = "signs in a name are no part of its file's name"
        raise BadInput(what, where=Where(place), why=why, remedy="Choose another name.")
    if version != ABSENT and not replace:
        remedy = "Choose another name, or add --replace."
        raise BadInput("there is a spec of that name", where=Where(place), remedy=remedy)
    for spec in known:
        if fold(spec.name) == fold(name) and spec.origin != place:
            what = f"the name '{short(name)}' is taken"
            raise BadInput(what, where=spec.where(["name"]), remedy="Choose another name.")
    return FilePlace(place, version)


def check_saving(bar: Bar) -> Path:
    """The folder of the bar's specs.

    Raises:
        BadInput: there is no bar to save into.
    """
    if bar.specs is None:
        remedy = "Make one with `equipour init`, or give one with --bar."
        raise BadInput("there is no bar to save into", remedy=remedy)
    return bar.specs


def spec_of_pours(
    said: Spec,
    *,
    name: str | None = None,
    profile: str | None = None,
    technique: str | None = None,
    glass: str | None = None,
    garnish: str | None = None,
    notes: str | None = None,
) -> Spec:
    """A spec from single pours, and what else was stated of it.

    It is read back as its file would be, so that an assessment is of the file.

    Raises:
        BadInput, BadInputs: something of it could not be written.
    """
    own = {
        "name": said.name if name is None else " ".join(name.split()),
        "profile": _key(profile),
        "technique": technique,
        "glass": _key(glass),
        "garnish": " ".join((garnish or "").split()) or None,
        "notes": (notes or "").strip() or None,
    }
    return check(Spec, said.model_dump() | own, _Typed())


class _Typed:
    """The source of a spec that is in no file yet, for messages."""

    def where(self, keys: KeyPath) -> Where:
        """The option that states the value."""
        return Where(f"--{keys[0]}") if keys else Where("the pours")


def _key(name: str | None) -> str | None:
    """A name in the form of a key."""
    return None if name is None else slug(name)


def spec_of_answer(
    found: Design, answer: Answer, name: str, bar: Bar, today: datetime.date
) -> Spec:
    """The spec of an answer, approved `today` with its values in the glass."""
    return Spec(
        name=" ".join(name.split()),
        profile=found.profile.name,
        technique=found.profile.technique,
        glass=found.glass,
        garnish=answer.garnish,
        pours=tuple(
            SpecPour(
                part=pour.part,
                ingredient=pour.ingredient.key,
                amount=written_amount(pour.ingredient, pour.amount, pour.tool, bar),
                stage="top" if pour.top else None,
            )
            for pour in answer.pours
        ),
        approved=approved_profile(answer.values, today, bar.currency),
    )


def written_amount(item: Ingredient, amount: float, tool: str, bar: Bar) -> str:
    """An amount in the bar's notation, if that reads back as exactly the proven amount.

    `amount` is in the ingredient's own unit, measured with `tool`.
    """
    said = show_amount(amount, tool, bar.show, bar.measures, piece_ml=item.piece_ml)
    read = item.units(parse_pour(said, bar.measures))
    if math.isclose(read, amount, rel_tol=_SAME):
        return said
    return f"{amount:.7g} {item.per}"
