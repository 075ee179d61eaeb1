"""Writing specs back: comments, order and everything that did not change stay as they were."""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path
from typing import Any

from solver.errors import BadInput, Where
from solver.pantry.spec import Spec, SpecPour, spec_in
from solver.pantry.toml_file import TomlText, key_lines, parse_toml, read_toml, write_atomic

_HEAD = ("name", "profile", "technique", "glass", "garnish", "notes")
_POUR = ("part", "ingredient", "amount", "stage")


def write_spec(spec: Spec, path: Path) -> None:
    """Write a spec; a file that is there already keeps its comments and the order of its keys.

    A pour keeps the comments above and beside it as long as its ingredient stays.

    Raises:
        BadInput, BadInputs: the file that is there is wrong, or can't be written.
    """
    old = read_toml(path) if path.exists() else None
    if old is not None:
        spec_in(old)
    text = rewritten(spec, old)
    written = spec_in(TomlText(path, text, parse_toml(text, path)))
    if written != spec.model_copy(update={"origin": path}):
        what = "the spec would not be read back as it was written"
        remedy = "Move the file away, and write it anew."
        raise BadInput(what, where=Where(path, 1), remedy=remedy)
    write_atomic(path, text)


def rewritten(spec: Spec, file: TomlText | None) -> str:
    """The text of a spec's file, made from the old one where there is one."""
    head, blocks = _split(file) if file else ("", [])
    written = [_edited(head, {key: getattr(spec, key) for key in _HEAD}).rstrip()]
    for pour in spec.pours:
        same = next((b for b in blocks if _ingredient(b) == pour.ingredient), None)
        if same is not None:
            blocks.remove(same)
        written.append(_pour_block(pour, same if same is not None else "[[pours]]\n"))
    return "\n\n".join(written) + "\n"


def _split(file: TomlText) -> tuple[str, list[str]]:
    """What stands before the pours, and each pour with the comment above it."""
    lines = file.text.split("\n")
    starts = [at - 1 for keys, at in key_lines(file.text) if len(keys) == 2 and keys[0] == "pours"]
    if not starts:  # pours written as a list on one line: it is written anew, as tables
        return _without_pours(file.text), []
    for position, start in enumerate(starts):
        above = start
        while above and lines[above - 1].lstrip().startswith("#"):
            above -= 1
        # A comment at the very top is about the drink, not about its first pour.
        starts[position] = above if above else start
    ends = [*starts[1:], len(lines)]
    blocks = ["\n".join(lines[a:b]) for a, b in zip(starts, ends, strict=True)]
    return "\n".join(lines[: starts[0]]), blocks


def _without_pours(text: str) -> str:
    import tomlkit

    document = tomlkit.parse(text)
    document.remove("pours")
    return tomlkit.dumps(document)


def _ingredient(block: str) -> str:
    return " ".join(str(parse_toml(block, Path())["pours"][0].get("ingredient")).split())


def _pour_block(pour: SpecPour, block: str) -> str:
    import tomlkit

    document = tomlkit.parse(block.rstrip() + "\n")
    table: Any = document["pours"]
    _set(table[0], {key: getattr(pour, key) for key in _POUR})
    return tomlkit.dumps(document).strip("\n")


def _edited(head: str, values: Mapping[str, str | None]) -> str:
    import tomlkit

    document = tomlkit.parse(head.rstrip() + "\n")
    _set(document, values)
    return tomlkit.dumps(document)


def _set(table: Any, values: Mapping[str, str | None]) -> None:
    """Make `table` say `values`; what it says already is not touched, so its comments stay."""
    for key, value in values.items():
        if value is None:
            if key in table:
                table.remove(key)
        elif key not in table or str(table[key]).strip() != value:
            table[key] = value
