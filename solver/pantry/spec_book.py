"""The specs of a bar as far as they can be read, with what each of them pours."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path

from solver.errors import BadInput, BadInputs
from solver.pantry.library import Library
from solver.pantry.pour import Pour
from solver.pantry.spec import Misread, Spec, spec_files
from solver.quantities import Measures


@dataclass(frozen=True)
class SpecBook:
    """Specs in the order of their files, their pours by name, and the files with a mistake."""

    specs: tuple[Spec, ...]
    pours: Mapping[str, tuple[Pour, ...]]
    misread: tuple[Misread, ...]


def read_book(folder: Path | None, library: Library, measures: Measures) -> SpecBook:
    """The specs in a folder whose files and pours can be read, and what is wrong with the rest."""
    files = spec_files(folder)
    misread = [*files.misread]
    pours: dict[str, tuple[Pour, ...]] = {}
    for spec in files.specs:
        try:
            pours[spec.name] = spec.poured(library, measures)
        except (BadInput, BadInputs) as error:
            misread.append(Misread(spec.origin or Path(), error))
    specs = tuple(spec for spec in files.specs if spec.name in pours)
    return SpecBook(specs, pours, tuple(sorted(misread, key=lambda each: each.path)))
