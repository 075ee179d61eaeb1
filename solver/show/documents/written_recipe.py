"""A recipe that was said."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from solver.show.documents.contract import document
from solver.show.documents.prep import prep_fields
from solver.tasks.prep.write_recipe import WrittenRecipe


def written_recipe_json(found: WrittenRecipe, *, written: bool) -> str:
    """The document of such a recipe, format 1."""
    return document("recipe", written_recipe_fields(found, written=written))


def written_recipe_fields(found: WrittenRecipe, *, written: bool) -> Mapping[str, Any]:
    """The fields of that document: those of `prep`, and what was written where."""
    dish = found.recipe.dish
    return {
        "called": dish.name,
        "kind": dish.kind,
        "kind_found_out": found.guessed,
        "character": list(dish.character),
        "steps": [step.model_dump(exclude_none=True) for step in found.recipe.table.steps],
        "assumed": list(found.assumed),
        "file": str(found.path),
        "new": found.new,
        "written": written,
        **prep_fields(found.prep, found.bar),
    }
