"""Writing specs back: comments, order and everything that did not change stay as they were."""

from __future__ import annotations

import datetime
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from solver.errors import BadInput, Where
from solver.files.atomic import FileChange, FilePlace, home_of, write
from solver.files.folders import make_folder
from solver.files.positions import positions
from solver.files.read import ABSENT, version_of
from solver.files.toml import KeyPath, TomlText, parse_toml, read_toml
from solver.pantry.spec import Approved, Spec, SpecPour, Tasting, spec_in

_HEAD = ("name", "profile", "technique", "glass", "garnish", "notes")
_POUR = ("part", "ingredient", "amount", "stage", "moves")
_TABLES = ("pours", "approved", "tasted")
"""What is written as tables, in this order in a new file; an old one keeps its own."""
_Value = str | float | datetime.date | list[str] | None


def write_spec(spec: Spec, place: FilePlace, root: Path | None) -> None:
    """Write a spec; a file that is there already keeps its comments and the order of its keys.

    Its folder is made where there is none. `root` is the bar's folder.

    A pour keeps the comments above and beside it as long as its ingredient stays.

    Raises:
        BadInput, BadInputs: the file that is there is wrong or not what it was, or can't be
            written.
    """
    change = FileChange(place, _checked(spec, place))
    make_folder(place.path.parent)
    write(home_of(place.path, root), [change])


def write_specs(specs: Sequence[tuple[Spec, FilePlace]], root: Path) -> None:
    """Write several specs of the bar at `root` as `write_spec` does; all or none.

    Raises:
        BadInput, BadInputs: a file that is there is wrong or not what it was, or one can't be
            written.
    """
    changes = [FileChange(place, _checked(spec, place)) for spec, place in specs]
    for _, place in specs:
        make_folder(place.path.parent)
    write(root, changes)


def _checked(spec: Spec, place: FilePlace) -> bytes:
    """The content of a spec's file, which would be read back as it is written."""
    path = place.path
    old = None
    if place.version != ABSENT:
        old = read_toml(path)
        spec_in(old)
    text = rewritten(spec, old)
    raw = old.encoded(text) if old else text.encode()
    written = spec_in(TomlText(path, text, parse_toml(text, path), raw))
    if written != spec.model_copy(update={"origin": path, "version": version_of(raw)}):
        what = "the spec would not be read back as it was written"
        remedy = "Move the file away, and write it anew."
        raise BadInput(what, where=Where(path, 1), remedy=remedy)
    return raw


def rewritten(spec: Spec, file: TomlText | None) -> str:
    """The text of a spec's file, made from the old one where there is one."""
    head, *blocks = _split(_as_tables(file)) if file else [_Block("", "")]
    written = [_edited(head.text, {key: getattr(spec, key) for key in _HEAD}).rstrip()]
    for table in dict.fromkeys([*(block.table for block in blocks), *_TABLES]):
        old = [block.text for block in blocks if block.table == table]
        written += _MADE[table](spec, old)
    return "\n\n".join(written) + "\n"


def _pour_blocks(spec: Spec, old: list[str]) -> list[str]:
    """The pours, each made from the old one of its ingredient where there is one."""
    written: list[str] = []
    for pour in spec.pours:
        same = next((text for text in old if _ingredient(text) == pour.ingredient), None)
        if same is not None:
            old.remove(same)
        written.append(_pour_block(pour, same if same is not None else "[[pours]]\n"))
    return written


def _approved_blocks(spec: Spec, old: list[str]) -> list[str]:
    if spec.approved is None:
        return []
    return [_approved_block(spec.approved, (old or ["[approved]\n"])[0])]


def _tasted_blocks(spec: Spec, old: list[str]) -> list[str]:
    """The tastings: what was written of one that is there still is not touched."""
    known = [(Tasting.model_validate(parse_toml(text, Path())["tasted"][0]), text) for text in old]
    written: list[str] = []
    for tasting in spec.tasted:
        same = next((each for each in known if each[0] == tasting), None)
        if same is not None:
            known.remove(same)
        written.append(same[1].strip("\n") if same else _tasted_block(tasting))
    return written


@dataclass(frozen=True)
class _Block:
    """A table of the file with the comment above it; what stands before the first is called ""."""

    table: str
    text: str


def _as_tables(file: TomlText) -> str:
    """The text without what is not written as a table with a header: it is written anew."""
    text = file.text
    for key in _TABLES:
        if key in file.data and key not in [table for table, _ in _headers(text)]:
            text = _without(text, key)
    return text


def _headers(text: str) -> list[tuple[str, int]]:
    """The tables of a spec, each with the 0-based line of its header."""
    return [
        (str(position.keys[0]), position.line - 1)
        for position in positions(text)
        if position.header and _is_table(position.keys)
    ]


def _is_table(keys: KeyPath) -> bool:
    """Whether a header is of a table here, or of one entry of an array of them."""
    return bool(keys) and keys[0] in _TABLES and len(keys) == (1 if keys[0] == "approved" else 2)


def _split(text: str) -> list[_Block]:
    """What stands before the first table, then each table with the comment above it."""
    lines = text.split("\n")
    starts = [("", 0)]
    for table, start in _headers(text):
        above = start
        while above and lines[above - 1].lstrip().startswith("#"):
            above -= 1
        # A comment at the very top is about the drink, not about its first pour.
        starts.append((table, above if above else start))
    ends = [*(start for _, start in starts[1:]), len(lines)]
    return [
        _Block(table, "\n".join(lines[start:end]))
        for (table, start), end in zip(starts, ends, strict=True)
    ]


def _without(text: str, key: str) -> str:
    import tomlkit

    document = tomlkit.parse(text)
    document.remove(key)
    return tomlkit.dumps(document)


def _ingredient(block: str) -> str:
    return " ".join(str(parse_toml(block, Path())["pours"][0].get("ingredient")).split())


def _pour_block(pour: SpecPour, block: str) -> str:
    import tomlkit

    document = tomlkit.parse(block.rstrip() + "\n")
    table: Any = document["pours"]
    _set(table[0], {key: getattr(pour, key) for key in _POUR})
    return tomlkit.dumps(document).strip("\n")


def _approved_block(approved: Approved, block: str) -> str:
    import tomlkit

    document = tomlkit.parse(block.rstrip() + "\n")
    _set(document["approved"], {key: getattr(approved, key) for key in Approved.model_fields})
    return tomlkit.dumps(document).strip("\n")


def _tasted_block(tasting: Tasting) -> str:
    import tomlkit

    document = tomlkit.parse("[[tasted]]\n")
    table: Any = document["tasted"]
    values = {key: getattr(tasting, key) for key in ("date", "score", "words")}
    _set(table[0], {**values, "poured": list(tasting.poured) or None})
    return tomlkit.dumps(document).strip("\n")


_MADE = {"pours": _pour_blocks, "approved": _approved_blocks, "tasted": _tasted_blocks}


def _edited(head: str, values: Mapping[str, _Value]) -> str:
    import tomlkit

    document = tomlkit.parse(head.rstrip() + "\n")
    _set(document, values)
    return tomlkit.dumps(document)


def _set(table: Any, values: Mapping[str, _Value]) -> None:
    """Make `table` say `values`; what it says already is not touched, so its comments stay."""
    for key, value in values.items():
        if value is None:
            if key in table:
                table.remove(key)
        elif key not in table or not _says(table[key], value):
            table[key] = value


def _says(written: Any, value: _Value) -> bool:
    if isinstance(value, str):
        return str(written).strip() == value
    return bool(written == value)
