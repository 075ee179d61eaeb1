"""Reading profiles: each file merged with those that it inherits from."""

from __future__ import annotations

import functools
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from solver.errors import BadInput, BadInputs, Where
from solver.files.checked import FileReading, check, gather
from solver.files.folders import toml_files
from solver.files.near_words import near_words
from solver.files.toml import KeyPath, TomlText, read_toml
from solver.measures import MEASURES
from solver.pantry.folders import data_folder
from solver.pantry.library import slug
from solver.pantry.profile import WHOLE, Part, Profile, where_in
from solver.pantry.targets import Target
from solver.printable import short

TARGETS = ("aims", "limits", "tolerances")


@dataclass(frozen=True)
class _Chain:
    """A profile's file, the one it inherits from, and so on."""

    files: tuple[TomlText, ...]

    def where(self, keys: KeyPath) -> Where:
        """The line that says what `keys` lead to, in the file that says it."""
        return where_in(self.files, keys)


def profile_files(own: Path | None = None) -> dict[str, Path]:
    """Every profile's file by its name; those in the folder `own` come before the built-in ones."""
    files = {path.stem: path for path in toml_files(data_folder("profiles"))}
    if own is not None:
        files |= {path.stem: path for path in toml_files(own)}
    return files


def find_profile(name: str, files: Mapping[str, Path]) -> Profile:
    """The profile called `name`, or that has it for an alias, with what it inherits.

    Raises:
        BadInput, BadInputs: there is none, it inherits in a circle, or a file is wrong.
    """
    return _profile(_chain(profile_key(name, files) or slug(name), files))


def profile_key(name: str, files: Mapping[str, Path]) -> str | None:
    """The profile that a name means: its own name before the alias of any; None for none.

    Raises:
        BadInput: a file with aliases is wrong.
    """
    key = slug(name)
    return key if key in files else _by_alias(key, files)


def _by_alias(key: str, files: Mapping[str, Path]) -> str | None:
    for profile, path in files.items():
        if b"aliases" not in path.read_bytes():  # most have none, and reading takes a while
            continue
        aliases = read_toml(path).data.get("aliases")
        named = aliases if isinstance(aliases, list) else []
        if any(isinstance(alias, str) and slug(alias) == key for alias in named):
            return profile
    return None


def _profile(chain: _Chain) -> Profile:
    merged: dict[str, Any] = {}
    for file in reversed(chain.files):
        merged = _merge(merged, file.data)
    _check_name(chain.files[0])
    reading = FileReading(chain)
    parts = _parts(merged.get("parts"), chain, reading)
    targets = {key: _targets(key, merged.get(key, {}), chain, reading) for key in TARGETS}
    reading.finish()
    own = {"parts": parts, "origin": tuple(file.path for file in chain.files)}
    merged["aliases"] = chain.files[0].data.get("aliases", ())  # what inherits is another drink
    merged |= _garnish(chain)
    return check(Profile, merged | targets | own, chain)


def _garnish(chain: _Chain) -> dict[str, Any]:
    """Both keys of the garnish, from the nearest file that has one of them: they are one choice."""
    for file in chain.files:
        if said := {key: file.data[key] for key in ("garnish", "garnishes") if key in file.data}:
            return {"garnish": None, "garnishes": {}} | said
    return {}


def load_profiles(own: Path | None = None) -> Sequence[Profile]:
    """Every profile, by name.

    Raises:
        BadInput, BadInputs: everything that is wrong with the files.
    """
    found, mistakes = readable_profiles(own)
    gather(mistakes)
    return found


@functools.cache
def _shipped(path: Path) -> TomlText:
    return read_toml(path)


def _read(path: Path) -> TomlText:
    """The file of a profile; those that come with the program do not change while it runs."""
    return _shipped(path) if path.parent == data_folder("profiles") else read_toml(path)


def readable_profiles(
    own: Path | None = None,
) -> tuple[Sequence[Profile], Sequence[BadInput | BadInputs]]:
    """Every profile that can be read, by name, and what is wrong with the others."""
    files = profile_files(own)
    read = functools.cache(_read)
    found: list[Profile] = []
    mistakes: list[BadInput | BadInputs] = []
    for name in sorted(files):
        try:
            found.append(_profile(_chain(name, files, read)))
        except (BadInput, BadInputs) as error:
            mistakes.append(error)
    return found, mistakes


def _chain(
    name: str, files: Mapping[str, Path], read: Callable[[Path], TomlText] = _read
) -> _Chain:
    chain: list[TomlText] = []
    seen: set[Path] = set()
    wanted: str | None = name
    while wanted is not None:
        path = files.get(wanted)
        built_in = data_folder("profiles") / f"{wanted}.toml"
        if chain and path == chain[-1].path and path != built_in and built_in.is_file():
            path = built_in  # a bar's own "sour" may build on the built-in one
        if path is None:
            what = f"'{short(wanted)}' is not a profile known here"
            near = near_words(wanted, files)
            where = _said(chain)
            raise BadInput(what, where=where, near=near, remedy="See `equipour profiles`.")
        if path in seen:
            what = f"the profile {wanted} inherits from itself"
            why = " -> ".join([*(file.path.stem for file in chain), wanted])
            raise BadInput(what, where=_said(chain), why=why, remedy="Break the circle.")
        file = read(path)
        chain.append(file)
        seen.add(path)
        wanted = file.data.get("inherits")
        if wanted is not None and not isinstance(wanted, str):
            raise BadInput("inherits must be text in quotes", where=_said(chain))
    return _Chain(tuple(chain))


def _said(chain: Sequence[TomlText]) -> Where | None:
    """Where the last file says what it inherits; finding a line is slow, so only for a mistake."""
    return chain[-1].where(["inherits"]) if chain else None


def _merge(base: Mapping[str, Any], own: Mapping[str, Any]) -> dict[str, Any]:
    """`own` over `base`, table by table and key by key, but for what is `WHOLE`."""
    merged = dict(base)
    for key, value in own.items():
        below = merged.get(key)
        both = isinstance(value, dict) and isinstance(below, dict) and key not in WHOLE
        merged[key] = _merge(below, value) if both and below is not None else value
    return merged


def _check_name(file: TomlText) -> None:
    name = file.data.get("name")
    if isinstance(name, str) and name != file.path.stem:
        what = f"the profile '{short(name)}' is in a file called {file.path.name}"
        remedy = "Give the file and the profile the same name."
        raise BadInput(what, where=file.where(["name"]), remedy=remedy)


def _parts(table: object, chain: _Chain, reading: FileReading) -> tuple[Part, ...]:
    """The parts, each checked by itself so that every mistake is found."""
    if not isinstance(table, dict) or not table:
        what = "the profile has no parts"
        reading.refuse(["parts"], BadInput(what, remedy="A part begins with [parts.base]."))
        return ()
    found: list[Part | None] = []
    for name, part in table.items():
        keys = ["parts", name]
        if isinstance(part, dict):
            found.append(reading.take(keys, None, check, Part, {**part, "name": name}, chain, keys))
        else:
            what = f"the part '{short(name)}' is not a table"
            reading.refuse(keys, BadInput(what, remedy="A part begins with [parts.base]."))
    return tuple(part for part in found if part is not None)


def _targets(key: str, table: object, chain: _Chain, reading: FileReading) -> tuple[Target, ...]:
    if not isinstance(table, dict):
        reading.refuse([key], BadInput(f"{key} is not a table", remedy=f"Write [{key}]."))
        return ()
    found: list[Target | None] = []
    for name, text in table.items():
        keys = [key, name]
        if name not in MEASURES:
            what = f"{key}: '{short(name)}' is not a measure"
            near, remedy = near_words(name, MEASURES), f"Use one of: {', '.join(MEASURES)}."
            reading.refuse(keys, BadInput(what, near=near, remedy=remedy))
        elif isinstance(text, str):
            target = {"measure": name, "text": text}
            found.append(reading.take(keys, None, check, Target, target, chain, keys))
        else:
            what = f"{key}.{short(name)} must be text in quotes, with its unit"
            reading.refuse(keys, BadInput(what))
    return tuple(target for target in found if target is not None)
