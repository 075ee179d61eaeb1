"""House files that hold a recipe, as text: a new one, another recipe in it, what came out."""

from __future__ import annotations

import json
from collections.abc import Callable, Mapping, Sequence
from datetime import date

from solver.errors import BadInput
from solver.files.positions import positions
from solver.files.toml import TomlText, parse_toml

Keys = tuple[str | int, ...]


def head_text(
    key: str, name: str, kind: str, says: str, character: Sequence[str], day: date
) -> str:
    """The table of a new ingredient of the house, with what to do next; `says` explains its kind.

    Its recipe follows.
    """
    return "\n".join(
        [
            f"# Written by `equipour recipe` on {day.isoformat()}, to be changed at will.",
            "# Every key that may stand here:          equipour help house/",
            f"# What it makes, and how long that keeps: equipour prep {key}",
            f'# What came out, once it is weighed:      equipour recipe {key} --weight "950 g"',
            f"# Onto the shelf, once it is bottled:     equipour prep {key} --stock",
            f"[{key}]",
            f"name = {quoted(name)}",
            f"kind = {quoted(kind)}  # {says}",
            f"character = [{', '.join(map(quoted, character))}]",
            '# Allergens come with what goes in. Others: allergens, or may_contain = ["nuts"]',
            "",
        ]
    )


def recipe_text(
    key: str,
    inputs: Mapping[str, tuple[str, str]],
    steps: Sequence[Mapping[str, str]],
    measured: Mapping[str, str],
    made: date | None,
) -> str:
    """The recipe of `key`: what goes in, each with its amount and a comment or "", and the rest."""
    lines = [] if made is None else ["", f"[{key}.recipe]", f"made = {made.isoformat()}"]
    lines += ["", f"[{key}.recipe.inputs]"]
    lines += [
        f"{name} = {quoted(amount)}{f'  # {comment}' if comment else ''}"
        for name, (amount, comment) in inputs.items()
    ]
    for step in steps:
        lines += ["", f"[[{key}.recipe.steps]]", *_pairs(step)]
    if measured:
        lines += ["", *_measured_lines(key, measured)]
    return "\n".join([*lines[1:], ""])


def quoted(text: str) -> str:
    """Text as a TOML string on one line."""
    return json.dumps(text, ensure_ascii=False)


def with_recipe(file: TomlText, key: str, recipe: str) -> str:
    """The text of the file with another recipe of `key`, which `recipe` holds; all else stays.

    Raises:
        BadInput: the old recipe does not stand in tables of its own.
    """
    rest = _without(file, lambda keys: keys[:2] == (key, "recipe"))
    text = f"{rest.rstrip()}\n\n{recipe}"
    _check_rest(text, file, key, ("recipe",))
    return text


def with_measured(file: TomlText, key: str, measured: Mapping[str, str], made: date) -> str:
    """The text of the file with what came out of the recipe of `key` on a day; all else stays.

    Raises:
        BadInput: what came out does not stand in a table of its own.
    """
    told = (key, "recipe", "measured")
    text = f"{_without(file, lambda keys: keys == told).rstrip()}\n\n"
    text += "\n".join([*_measured_lines(key, measured), ""])
    text = _with_day(TomlText(file.path, text, file.data), key, made)
    _check_rest(text, file, key, ("recipe", "measured"), ("recipe", "made"))
    return text


def _pairs(table: Mapping[str, str]) -> list[str]:
    return [f"{name} = {quoted(text)}" for name, text in table.items()]


def _measured_lines(key: str, measured: Mapping[str, str]) -> list[str]:
    return [f"[{key}.recipe.measured]", *_pairs(measured)]


def _headers(text: str) -> list[tuple[Keys, int]]:
    """The keys of each header, and its line counted from 0."""
    return [(found.keys, found.line - 1) for found in positions(text) if found.header]


def _without(file: TomlText, cut: Callable[[Keys], bool]) -> str:
    """The text without the tables whose keys `cut` chooses, and the comments above them."""
    lines = file.text.split("\n")
    headers = _headers(file.text)
    ends = [*(at for _, at in headers[1:]), len(lines)]
    gone: set[int] = set()
    for (keys, start), end in zip(headers, ends, strict=True):
        if cut(keys):
            gone.update(range(_above(lines, start), _above(lines, end)))
    return "\n".join(line for at, line in enumerate(lines) if at not in gone)


def _above(lines: Sequence[str], header: int) -> int:
    """Where the comment right above a header begins."""
    while 0 < header < len(lines) and lines[header - 1].startswith("#"):
        header -= 1
    return header


def _with_day(file: TomlText, key: str, made: date) -> str:
    """The text with the day on which the recipe of `key` was made."""
    lines = file.text.split("\n")
    said = f"made = {made.isoformat()}"
    places = {found.keys: found.line - 1 for found in positions(file.text)}
    if (old := places.get((key, "recipe", "made"))) is not None:
        _, sign, comment = lines[old].partition("#")
        lines[old] = f"{said}  #{comment}" if sign else said
    elif (own := places.get((key, "recipe"))) is not None:
        lines.insert(own + 1, said)
    else:
        first = min(at for keys, at in _headers(file.text) if keys[:2] == (key, "recipe"))
        start = _above(lines, first)
        lines[start:start] = [f"[{key}.recipe]", said, ""]
    return "\n".join(lines)


def _check_rest(text: str, file: TomlText, key: str, *changed: tuple[str, ...]) -> None:
    """Raise where anything but what `changed` leads to, below `key`, would be read otherwise."""
    try:
        same = _rest(parse_toml(text, file.path), key, changed) == _rest(file.data, key, changed)
    except BadInput:
        same = False
    if not same:
        what = f"the recipe of {key} does not stand in tables of its own"
        remedy = f"Write it as [{key}.recipe.inputs] and the like, or change it there."
        raise BadInput(what, where=file.where([key, "recipe"]), remedy=remedy)


def _rest(data: Mapping[str, object], key: str, changed: Sequence[tuple[str, ...]]) -> object:
    """All that is read, without what `changed` leads to below `key`; empty tables don't count."""

    def kept(table: object, path: tuple[str, ...]) -> object:
        if not isinstance(table, Mapping):
            return table
        found = {
            name: kept(value, (*path, name))
            for name, value in table.items()
            if (*path, name) not in changed
        }
        return {name: value for name, value in found.items() if value != {}}

    return {name: kept(value, () if name == key else (name,)) for name, value in data.items()}
