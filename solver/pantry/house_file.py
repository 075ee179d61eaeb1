"""A house file with the figures of what is in the bottle now, and all else as it was."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from solver.errors import BadInput, Where
from solver.files.positions import positions
from solver.files.toml import TomlText, parse_toml
from solver.pantry.disclosure import Disclosure
from solver.pantry.figure import Figure
from solver.pantry.ingredient import Ingredient

_UNITS = {
    "abv": "pct",
    "sugar": "g_100ml",
    "acid": "g_100ml",
    "other": "g_100ml",
    "density": "g_ml",
    "life": "days",
}


def restated(file: TomlText, key: str, values: Mapping[str, Any]) -> str:
    """The text of the file with other values in the table of `key`; None takes one out.

    Raises:
        BadInput: the table is not written out, or would not be read back as it was written.
    """
    import tomlkit

    lines = file.text.split("\n")
    headers = [(found.keys, found.line - 1) for found in positions(file.text) if found.header]
    start = next((at for keys, at in headers if keys == (key,)), None)
    if start is None:
        what = f"the table [{key}] is not written out"
        remedy = f"Begin it with a line [{key}]; its recipe follows as [{key}.recipe.inputs]."
        raise BadInput(what, where=file.where([key]), remedy=remedy)
    end = _without_comment(lines, next((at for _, at in headers if at > start), len(lines)))
    document = tomlkit.parse("\n".join(lines[start:end]).rstrip() + "\n")
    table: Any = document[key]
    for name, value in values.items():
        if value is None:
            table.pop(name, None)
        else:
            table[name] = value
    block = tomlkit.dumps(document).rstrip().split("\n")
    text = "\n".join([*lines[:start], *block, "", *lines[end:]]).rstrip() + "\n"
    _check_kept(text, file, key)
    return text


def cell_texts(text: str, key: str) -> dict[str, str]:
    """What the table of `key` says beside its recipe, each value as written."""
    import tomlkit

    table: Any = tomlkit.parse(text)[key]
    return {name: value.as_string() for name, value in table.items() if name != "recipe"}


def value_of(text: str) -> Any:
    """A value as written, for `restated`."""
    import tomlkit

    return tomlkit.value(text)


def _without_comment(lines: list[str], end: int) -> int:
    """Where the block that ends at a header ends, the comment above that header left out."""
    while end > 0 and end < len(lines) and lines[end - 1].lstrip().startswith("#"):
        end -= 1
    return end


def figure_values(item: Ingredient, told: Disclosure, before: Mapping[str, Any]) -> dict[str, Any]:
    """What a house file is to say of what is in the bottle; None for what it says and should not.

    `told` is what the ingredient is to a guest, with all that goes into it; `before` is its table.
    """
    found: dict[str, Any] = {}
    for name, unit in _UNITS.items():
        figure = getattr(item, name)
        if figure is not None:
            found[name] = _inline(figure, unit)
        elif name in before:
            found[name] = None
    if item.acids or "acids" in before:
        found["acids"] = _table(dict(item.acids))
    if item.holds:
        found["holds"] = _table(dict(item.holds))
    one = {name: getattr(item, name) for name in ("serve_ml", "technique")}
    found |= {name: said for name, said in one.items() if said is not None}
    found |= _for_guests(told, before)
    found["allergens_source"] = item.allergens_source
    lists = {name: getattr(item, name) for name in ("was_made_of", "may_hold", "unclear")}
    lists |= {"cautions": told.cautions, "kitchen_cautions": told.kitchen_cautions}
    for name, said in lists.items():
        if said or name in before:
            found[name] = list(said) or None
    return found


def _for_guests(told: Disclosure, before: Mapping[str, Any]) -> dict[str, Any]:
    """What a guest is told of the batch; nothing of what is not known of all that is in it."""
    found: dict[str, Any] = {
        "allergens": None if told.allergens_not_known else sorted(told.allergens),
        "animal": None if told.animal_not_known else sorted(told.animal),
        "may_contain": sorted(told.may_contain) or None,
        "may_animal": sorted(told.may_animal) or None,
        "declare": sorted(told.declare) or None,
    }
    return {name: words for name, words in found.items() if words is not None or name in before}


def _inline(figure: Figure, unit: str) -> Any:
    said: dict[str, str | float] = {unit: figure.value}
    if figure.low is not None and figure.high is not None:
        said |= {"low": figure.low, "high": figure.high}
    return _table({**said, "basis": figure.basis, "source": figure.source})


def _table(values: Mapping[str, str | float]) -> Any:
    """An inline table, with the spaces that people write."""
    import tomlkit

    def said(value: str | float) -> str:
        return tomlkit.string(value).as_string() if isinstance(value, str) else f"{value:.12g}"

    inside = ", ".join(f"{name} = {said(value)}" for name, value in values.items())
    return tomlkit.parse(f"it = {{ {inside} }}")["it"]


def _check_kept(text: str, file: TomlText, key: str) -> None:
    """Raise where anything but the figures of `key` would change."""
    new = parse_toml(text, file.path)
    same = {k: v for k, v in new.items() if k != key} == {
        k: v for k, v in file.data.items() if k != key
    }
    if not same or new[key].get("recipe") != file.data[key].get("recipe"):
        what = "the house file would not be read back as it was written"
        raise BadInput(what, where=Where(file.path, 1), remedy="Write each table on its own lines.")
