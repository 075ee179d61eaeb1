"""Ingredients with their figures."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from solver.pantry.bar import Bar
from solver.pantry.figure import Figure
from solver.pantry.ingredient import Ingredient
from solver.show.documents.contract import document
from solver.show.documents.guest import told_fields
from solver.show.text.ingredients import FIGURES, figure_key


def ingredients_json(found: Sequence[Ingredient], bar: Bar) -> str:
    """The document of some ingredients; every figure with where it comes from."""
    return document("ingredients", {"ingredients": [_ingredient(item, bar) for item in found]})


def _ingredient(item: Ingredient, bar: Bar) -> dict[str, Any]:
    told = bar.told_of(item)
    return {
        "ingredient": item.key,
        "name": item.name,
        "aliases": list(item.aliases),
        "kind": item.kind,
        "character": list(item.character),
        **{figure_key(name, item): _figure(getattr(item, name)) for name in FIGURES},
        f"other_g_100{item.per}": _figure(item.other),
        f"moisture_g_100{item.per}": _figure(item.moisture),
        f"insoluble_g_100{item.per}": _figure(item.insoluble),
        "bulk_g_ml": _figure(item.bulk),
        "acids": dict(item.acids),
        "density_g_ml": _figure(item.density),
        "life_days": _figure(item.life),
        "piece_ml": _figure(item.piece if item.per == "ml" else None),
        "piece_g": _figure(item.piece if item.per == "g" else None),
        "tool": item.tool,
        **told_fields(told),
        "cautions": list(told.cautions),
        "kitchen_cautions": list(told.kitchen_cautions),
        "holds": sorted(told.holds - {item.key}),
        "contents_known": bar.avoidable.contents_known(item),
        "note": item.note,
    }


def _figure(figure: Figure | None) -> dict[str, Any] | None:
    return figure.model_dump() if figure else None
