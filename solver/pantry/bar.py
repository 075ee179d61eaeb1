"""The bar: the user's folder, or the built-in library where there is none."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from pathlib import Path
from typing import Any

from solver.errors import BadInput
from solver.pantry.checked import toml_files
from solver.pantry.defaults import load_defaults
from solver.pantry.library import Library, load_library, read_ingredients
from solver.pantry.pour_set import PourSet
from solver.pantry.shelf import Stocked, read_shelf
from solver.pantry.toml_file import TomlText, read_toml
from solver.quantities import Measures, parse

_SIZES = {"dash": "dash_ml", "bar_spoon": "bar_spoon_ml", "drop": "drop_ml"}


@dataclass(frozen=True)
class Weighed:
    """A drink that the bar weighed (g) before and after icing; its strength before, % vol."""

    before_g: float
    after_g: float
    abv_pct: float


@dataclass(frozen=True)
class Bar:
    """House settings, stock, and where the bar's own files are.

    `wash_lines` are mL of liquid that a glass takes, `weighed` the bar's own melt by technique.
    """

    name: str
    measures: Measures
    pour_set: PourSet
    currency: str
    jurisdiction: str
    library: Library
    stock: tuple[Stocked, ...]
    wash_lines: Mapping[str, float]
    weighed: Mapping[str, Weighed]
    profiles: Path | None = None


def find_bar(start: Path, explicit: Path | None, environment: str | None) -> Path | None:
    """The bar's folder: `explicit`, else EQUIPOUR_BAR, else upward from `start`, else None.

    Raises:
        BadInput: the folder asked for has no bar.toml.
    """
    asked = explicit or (Path(environment) if environment else None)
    if asked is not None:
        if (asked / "bar.toml").is_file():
            return asked
        remedy = "Give the folder that holds bar.toml."
        raise BadInput(f"there is no bar in {asked}", why="it has no bar.toml", remedy=remedy)
    for folder in (start, *start.parents):
        if (folder / "bar.toml").is_file():
            return folder
    return None


def load_bar(root: Path | None) -> Bar:
    """The bar in a folder; the built-in library, without prices, for None.

    Raises:
        BadInput, BadInputs: a file is wrong, with its line.
    """
    defaults = load_defaults()
    wash_lines = {name: glass.wash_line_ml for name, glass in defaults.glasses.items()}
    library = load_library()
    if root is None:
        stock = tuple(Stocked(ingredient) for ingredient in library)
        sets = defaults.pour_set("quarter-ounce")
        return Bar("", Measures(), sets, "", "United States", library, stock, wash_lines, {})
    file = read_toml(root / "bar.toml")
    measures = _measures(file)
    own = read_ingredients(toml_files(root / "house"))
    library = library.shadowed_by(own)
    stock = read_shelf(root / "shelf.csv", library, measures)
    on_shelf = {stocked.ingredient.key for stocked in stock}
    house = tuple(Stocked(ingredient) for ingredient in own if ingredient.key not in on_shelf)
    return Bar(
        name=str(file.data.get("name", root.name)),
        measures=measures,
        pour_set=defaults.pour_set(str(file.data.get("pour_set", "quarter-ounce"))),
        currency=str(file.data.get("currency", "")),
        jurisdiction=str(file.data.get("jurisdiction", "United States")),
        library=library,
        stock=(*stock, *house),
        wash_lines=wash_lines | _wash_lines(file, measures),
        weighed=_weighed(file, measures),
        profiles=root / "profiles",
    )


def _tables(file: TomlText, name: str) -> dict[str, dict[str, Any]]:
    found = file.data.get(name, {})
    if not isinstance(found, dict) or not all(isinstance(t, dict) for t in found.values()):
        what = f"[{name}] does not hold tables"
        raise BadInput(what, where=file.where([name]), remedy=f"Write it like [{name}.coupe].")
    return found


def _read(file: TomlText, keys: list[str], quantity: str, measures: Measures) -> float:
    table: Any = file.data
    for key in keys:
        table = table.get(key) if isinstance(table, dict) else None
    if not isinstance(table, str):
        what = f"{'.'.join(keys)} is missing, or is not text with a unit"
        raise BadInput(what, where=file.where(keys[:-1]), remedy='Write it like "30 ml".')
    try:
        return parse(table, quantity, measures)
    except BadInput as error:
        raise error.at(file.where(keys)) from None


def _measures(file: TomlText) -> Measures:
    sizes: dict[str, float] = {}
    if "ounce" in file.data:
        sizes["ounce_ml"] = _read(file, ["ounce"], "volume", Measures())
    for name in file.data.get("measures", {}):
        if name not in _SIZES:
            what = f"'{name}' is not a measure that a bar sets"
            remedy = f"Use {', '.join(_SIZES)}."
            raise BadInput(what, where=file.where(["measures", name]), remedy=remedy)
        sizes[_SIZES[name]] = _read(file, ["measures", name], "volume", Measures())
    return replace(Measures(), **sizes)


def _wash_lines(file: TomlText, measures: Measures) -> dict[str, float]:
    return {
        name: _read(file, ["glasses", name, "wash_line"], "volume", measures)
        for name in _tables(file, "glasses")
    }


def _weighed(file: TomlText, measures: Measures) -> dict[str, Weighed]:
    return {
        name: Weighed(
            _read(file, ["melt", name, "before"], "mass", measures),
            _read(file, ["melt", name, "after"], "mass", measures),
            _read(file, ["melt", name, "abv"], "strength", measures),
        )
        for name in _tables(file, "melt")
    }
