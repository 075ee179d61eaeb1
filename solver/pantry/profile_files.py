"""Reading profiles: each file merged with those that it inherits from."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from pathlib import Path
from typing import Any

from solver.errors import BadInput
from solver.pantry.checked import check, short, toml_files
from solver.pantry.library import data_folder
from solver.pantry.profile import Profile
from solver.pantry.toml_file import TomlText, read_toml
from solver.pantry.vocabulary import near_words

TARGETS = ("aims", "limits", "tolerances")


def profile_files(own: Path | None = None) -> dict[str, Path]:
    """Every profile's file by its name; those in the folder `own` come before the built-in ones."""
    files = {path.stem: path for path in toml_files(data_folder("profiles"))}
    if own is not None:
        files |= {path.stem: path for path in toml_files(own)}
    return files


def find_profile(name: str, files: Mapping[str, Path]) -> Profile:
    """The profile called `name`, with what it inherits.

    Raises:
        BadInput, BadInputs: there is none, it inherits in a circle, or a file is wrong.
    """
    chain = _chain(name.strip().lower(), files)
    merged: dict[str, Any] = {}
    for file in reversed(chain):
        merged = _merge(merged, file.data)
    own = chain[0]
    origin = tuple(file.path for file in chain)
    return check(Profile, merged, own, (), lambda table: _shape(table) | {"origin": origin})


def _chain(name: str, files: Mapping[str, Path]) -> list[TomlText]:
    """The profile's file, then the one it inherits from, and so on."""
    chain: list[TomlText] = []
    seen: list[str] = []
    wanted: str | None = name
    where = None
    while wanted is not None:
        if wanted not in files:
            what = f"'{short(wanted)}' is not a profile known here"
            near = near_words(wanted, files)
            raise BadInput(what, where=where, near=near, remedy="See `equipour profiles`.")
        if wanted in seen:
            what = f"the profile {wanted} inherits from itself"
            why = " -> ".join([*seen, wanted])
            raise BadInput(what, where=where, why=why, remedy="Break the circle.")
        seen.append(wanted)
        file = read_toml(files[wanted])
        chain.append(file)
        parent = file.data.get("inherits")
        where = file.where(["inherits"]) if parent is not None else None
        wanted = parent if isinstance(parent, str) else None
    return chain


def _merge(base: Mapping[str, Any], own: Mapping[str, Any]) -> dict[str, Any]:
    """`own` over `base`, table by table and key by key."""
    merged = dict(base)
    for key, value in own.items():
        below = merged.get(key)
        both = isinstance(value, dict) and isinstance(below, dict)
        merged[key] = _merge(below, value) if both and below is not None else value
    return merged


def _shape(table: dict[str, Any]) -> dict[str, Any]:
    """The file's tables in the model's shape: parts and targets as lists."""
    shaped = dict(table)
    parts = table.get("parts")
    if isinstance(parts, dict):
        named = {name: part for name, part in parts.items() if isinstance(part, dict)}
        shaped["parts"] = [{**part, "name": name} for name, part in named.items()]
    for key in TARGETS:
        targets = table.get(key)
        if isinstance(targets, dict):
            shaped[key] = [{"measure": name, "text": text} for name, text in targets.items()]
    return shaped


def load_profiles(own: Path | None = None) -> Sequence[Profile]:
    """Every profile, by name.

    Raises:
        BadInput, BadInputs: a file is wrong.
    """
    files = profile_files(own)
    return [find_profile(name, files) for name in sorted(files)]
