"""Ingredients with their figures, as text and as tables."""

from __future__ import annotations

from collections.abc import Sequence

from solver.pantry.bar import Bar
from solver.pantry.ingredient import Ingredient
from solver.show.text.table import Cell, csv_table


def ingredients_text(found: Sequence[Ingredient]) -> str:
    """One line for each ingredient."""
    return "\n".join(f"{item.key:<32} {item.name}" for item in found)


def ingredient_text(ingredient: Ingredient, bar: Bar) -> str:
    """An ingredient, its figures, where they come from, and what a guest is told of it."""
    lines = [f"{ingredient.name}  [{ingredient.key}]", f"  kind       {ingredient.kind}"]
    share = f"g/100 {ingredient.unit}"
    figures = (
        ("abv", ingredient.abv, "% vol"),
        ("sugar", ingredient.sugar, share),
        ("acid", ingredient.acid, share),
        ("water", ingredient.moisture, share),
        ("solids", ingredient.insoluble, share),
        ("density", ingredient.density, "g/mL"),
        ("bulk", ingredient.bulk, "g/mL"),
        ("keeps", ingredient.life, "days"),
    )
    for name, figure, unit in figures:
        if figure is not None:
            unit = "day" if name == "keeps" and figure.value == 1 else unit
            lines.append(f"  {name:<9}{figure.value:>7g} {unit}  ({figure.basis}: {figure.source})")
    told = bar.told_of(ingredient)
    lines.append(f"  allergens  {_stated(told.allergens, told.allergens_not_known)}")
    if told.may_contain:
        lines.append(f"  may hold   {', '.join(sorted(told.may_contain))}")
    lines.append(f"  animal     {_stated(told.animal, told.animal_not_known)}")
    if told.may_animal:
        lines.append(f"  may hold   {', '.join(sorted(told.may_animal))}")
    if told.declare:
        lines.append(f"  declare    {', '.join(sorted(told.declare))}")
    lines += [f"  caution    {caution}" for caution in (*told.cautions, *told.kitchen_cautions)]
    return "\n".join(lines)


def _stated(words: frozenset[str], not_known: tuple[str, ...]) -> str:
    """What is stated, and of which ingredients nothing is."""
    said = ", ".join(sorted(words))
    if not_known:
        return f"{said}; not known of {', '.join(not_known)}" if said else "not known"
    return said or "none stated"


def ingredients_csv(found: Sequence[Ingredient], bar: Bar) -> str:
    """Ingredients as a table, with its allergens, and with the sources of its figures."""
    heads = (*NAMED_HEADS, "allergens", "may_contain",
             "allergens_not_known", *(f"{name}_source" for name in FIGURES))  # fmt: skip
    return csv_table(
        heads,
        (
            (
                *named_cells(item),
                ", ".join(sorted(told.allergens)),
                ", ".join(sorted(told.may_contain)),
                ", ".join(told.allergens_not_known),
                *(f"{f.basis}: {f.source}" for f in (item.abv, item.sugar, item.acid)),
            )
            for item in found
            for told in (bar.told_of(item),)
        ),
    )


NAMED_HEADS = (
    "ingredient", "name", "kind", "unit", "abv_pct", "sugar_g_per_100", "acid_g_per_100",
)  # fmt: skip
"""Heads of what every table says of an ingredient first: `named_cells`."""


def named_cells(item: Ingredient) -> tuple[Cell, ...]:
    """What every table says of an ingredient first."""
    figures = (item.abv.value, item.sugar.value, item.acid.value)
    return (item.key, item.name, item.kind, item.per, *figures)


FIGURES = ("abv", "sugar", "acid")
"""Figures that every ingredient has."""


def figure_key(name: str, item: Ingredient) -> str:
    """The key of a figure in documents, with its unit."""
    return "abv_pct" if name == "abv" else f"{name}_g_100{item.per}"
