"""Putting a batch into stock: its figures into its house file, its bottle onto the shelf.

Both texts are made and read back before either file is touched.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from contextlib import AbstractContextManager
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from solver.errors import BadInput, Where
from solver.files.atomic import Change, Place, prepared
from solver.files.positions import positions
from solver.files.toml import TomlText, parse_toml
from solver.pantry.bar import Bar
from solver.pantry.disclosure import Disclosure
from solver.pantry.ingredient import Figure, Ingredient
from solver.pantry.library import load_library, read_ingredient
from solver.pantry.shelf import USE_BY, Shelf
from solver.tasks.prep.prepare import Prep

_UNITS = {
    "abv": "pct",
    "sugar": "g_100ml",
    "acid": "g_100ml",
    "other": "g_100ml",
    "density": "g_ml",
    "life": "days",
}


@dataclass(frozen=True)
class Stocked:
    """What is written: the house file, the shelf, and the stock in mL that the batch replaces.

    `new_columns` are those that the shelf did not have.
    """

    house: Path
    shelf: Path
    replaced_ml: float | None
    new_columns: tuple[str, ...] = ()


@dataclass(frozen=True)
class Stocking:
    """A batch on its way into stock: what is to be written, and what that says."""

    changes: tuple[Change, Change]
    stocked: Stocked


def stocking(prep: Prep, bar: Bar) -> Stocking:
    """What putting the batch into stock would write.

    Raises:
        BadInput, BadInputs: the bar has no shelf, or a file would not be what it should be.
    """
    if bar.shelf is None:
        what = "the bar has no shelf to put it on"
        remedy = (
            "Make shelf.csv beside bar.toml: its first line is ingredient,bottle,price,on_hand."
        )
        raise BadInput(what, remedy=remedy)
    file, sheet = prep.recipe.file, bar.shelf.sheet
    text = restated(file, prep)
    new = TomlText(file.path, text, parse_toml(text, file.path))
    row = bar.shelf.row(prep.recipe.key)
    shelf = _on_shelf(prep, read_ingredient(prep.recipe.key, new), bar.shelf)
    return Stocking(
        (
            Change(Place(file.path, file.version), file.encoded(text)),
            Change(Place(sheet.path, sheet.version), shelf.sheet.render()),
        ),
        Stocked(
            house=file.path,
            shelf=sheet.path,
            replaced_ml=row.on_hand if row else None,
            new_columns=shelf.sheet.columns[len(sheet.columns) :],
        ),
    )


def on_its_way(ready: Stocking, bar: Bar) -> AbstractContextManager[Callable[[], None]]:
    """Have it on disk, for a call that puts it in place; without it nothing is written.

    Raises:
        BadInput: a file can't be written, or is not what it was.
    """
    return prepared(bar.root or ready.stocked.shelf.parent, ready.changes)


def restated(file: TomlText, prep: Prep) -> str:
    """The text of the house file with the figures of the batch, and all else as it was.

    Raises:
        BadInput: the file would not be read back as it was written.
    """
    import tomlkit

    lines = file.text.split("\n")
    headers = [(found.keys, found.line - 1) for found in positions(file.text) if found.header]
    key = prep.recipe.key
    start = next((at for keys, at in headers if keys == (key,)), None)
    if start is None:
        what = f"the table [{key}] is not written out"
        remedy = f"Begin it with a line [{key}]; its recipe follows as [{key}.recipe.inputs]."
        raise BadInput(what, where=file.where([key]), remedy=remedy)
    end = _without_comment(lines, next((at for _, at in headers if at > start), len(lines)))
    document = tomlkit.parse("\n".join(lines[start:end]).rstrip() + "\n")
    table: Any = document[key]
    for name, value in _figures(prep, file.data[key]).items():
        if value is None:
            table.remove(name)
        else:
            table[name] = value
    block = tomlkit.dumps(document).rstrip().split("\n")
    text = "\n".join([*lines[:start], *block, "", *lines[end:]]).rstrip() + "\n"
    _check_kept(text, file, key)
    return text


def _without_comment(lines: list[str], end: int) -> int:
    """Where the block that ends at a header ends, the comment above that header left out."""
    while end > 0 and end < len(lines) and lines[end - 1].lstrip().startswith("#"):
        end -= 1
    return end


def _figures(prep: Prep, before: Mapping[str, Any]) -> dict[str, Any]:
    """What the house file is to say of the batch; None for what it says and should not."""
    item = prep.ingredient
    found: dict[str, Any] = {}
    for name, unit in _UNITS.items():
        figure = getattr(item, name)
        if figure is not None:
            found[name] = _inline(figure, unit)
        elif name in before:
            found[name] = None
    if item.acids or "acids" in before:
        found["acids"] = _table(dict(item.acids))
    found |= _for_guests(prep.told, before)
    found["allergens_source"] = item.allergens_source
    if prep.told.cautions:
        found["cautions"] = list(prep.told.cautions)
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
    if not same or new[key]["recipe"] != file.data[key]["recipe"]:
        what = "the house file would not be read back as it was written"
        raise BadInput(what, where=Where(file.path, 1), remedy="Write each table on its own lines.")


def _on_shelf(prep: Prep, written: Ingredient, shelf: Shelf) -> Shelf:
    """The shelf with the batch: what is on hand, its date, and what a bottle of it costs."""
    library = load_library().shadowed_by([written, *_others(shelf, written)])
    renewed = Shelf(shelf.rows, shelf.sheet, library, shelf.measures, shelf.currency)
    row = shelf.row(written.key)
    volume = prep.figures.volume_ml.value
    cells = {"on_hand": f"{volume:.0f} ml", "opened": prep.made.isoformat()}
    bottle = row.bottle if row and row.bottle else None
    if bottle is None:
        bottle = float(round(volume))
        cells["bottle"] = f"{bottle:.0f} ml"
    if prep.cost is not None:
        cells["price"] = f"{prep.cost * bottle / volume:.2f}"
    note = USE_BY.sub("", row.note if row else "").strip("; ")
    if "use_by" in shelf.sheet.columns:
        cells["use_by"], cells["note"] = prep.use_by.isoformat(), note
    else:
        use_by = f"use by {prep.use_by.isoformat()}"
        cells["note"] = f"{note}; {use_by}" if note else use_by
    if row is not None and "overrides" in shelf.sheet.columns:
        cells["overrides"] = ""
    return renewed.with_columns(cells).with_cells(written.key, cells)


def _others(shelf: Shelf, written: Ingredient) -> list[Ingredient]:
    return [item for item in shelf.library if item.key != written.key]
