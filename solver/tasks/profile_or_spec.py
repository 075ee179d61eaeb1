"""Resolve a name to a profile, or else to a spec."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

from solver.errors import BadInput
from solver.files.near_words import near_words
from solver.pantry.bar import Bar
from solver.pantry.library import fold, slug
from solver.pantry.profile import Profile
from solver.pantry.profile_files import profile_files, profile_key
from solver.pantry.spec import Spec
from solver.pantry.word_forms import spelt_so
from solver.printable import short


@dataclass(frozen=True)
class ProfileOrSpec:
    """What a name means; `spec_file` is that of a spec with the name of a profile, or None."""

    meant: Profile | Spec
    spec_file: Path | None = None

    @property
    def is_profile(self) -> bool:
        """Whether it is a profile."""
        return isinstance(self.meant, Profile)


def profile_or_spec(name: str, bar: Bar) -> ProfileOrSpec:
    """The profile of a name; else the spec with that name, file name, or path.

    Raises:
        BadInput, BadInputs: there is neither, or its file is wrong.
    """
    files = profile_files(bar.profiles)
    key = slug(name)
    specs = {path.stem: path for path in bar.spec_paths}
    titles = {fold(spec.name): spec.origin for spec in bar.book.specs}
    own = specs.get(key) or titles.get(fold(name)) or titles.get(spelt_so(name, titles) or "")
    if key in files:
        return ProfileOrSpec(bar.profile(key), own)
    if own is not None or name.lower().endswith(".toml"):
        from solver.drinks.assess import find_drink  # no profile needs it

        return ProfileOrSpec(find_drink((name,), (), bar))
    if (alias := profile_key(name, files)) is not None:
        return ProfileOrSpec(bar.profile(alias))
    what = f"'{short(name)}' is neither a profile nor a spec known here"
    near = near_words(key, [*files, *specs])
    raise BadInput(what, near=near, remedy="See `equipour profiles` and `equipour specs`.")
