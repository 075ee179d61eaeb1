"""A recipe that was said: how it was understood, what it makes, and what to do next."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Any

from solver.pantry.recipe import RecipeStep
from solver.pantry.vocabulary import KINDS
from solver.show.contract import document
from solver.show.names_in_a_row import listed
from solver.show.prep import input_lines, prep_text
from solver.show.prep_document import prep_fields
from solver.tasks.prep.write_recipe import WrittenRecipe


def written_recipe_text(found: WrittenRecipe, file: str, *, dry: bool) -> str:
    """What was understood, what it makes, and how to change it; `file` is where it stands."""
    return "\n".join([*_understood(found), "", _makes(found), "", *_next(found, file, dry=dry)])


def _understood(found: WrittenRecipe) -> Iterator[str]:
    dish = found.recipe.dish
    tastes = f", of {listed(dish.character)}" if dish.character else ""
    yield f"{dish.name}: {KINDS.get(dish.kind, dish.kind)} ({dish.kind}){tastes}."
    yield from input_lines(found.prep)
    if steps := [step_words(step) for step in found.recipe.table.steps if step.do != "add"]:
        yield f"Then: {', '.join(steps)}."
    yield from (f"{each}." for each in found.assumed)


def step_words(step: RecipeStep) -> str:
    """A step in a few words: "simmer 20 min", "strain (cloth)"; what else it says in brackets."""
    if step.do == "fortify":
        return f"fortify with {step.amount} {step.ingredient}"
    how = f" ({step.through})" if step.through else ""
    note = f"[{step.note}]" if step.note else None
    return " ".join(filter(None, (f"{step.do}{how}", step.time, note)))


def _makes(found: WrittenRecipe) -> str:
    """What `prep` says of it, below its name."""
    return prep_text(found.prep, found.bar).partition("\n\n")[2]


def _next(found: WrittenRecipe, file: str, *, dry: bool) -> Iterator[str]:
    key = found.recipe.key
    if dry:
        yield f"Nothing was written; without --dry-run it stands in {file}."
        return
    if found.guessed:
        yield f"Another sort of thing: --kind, or change it in {file}; keys: equipour help house/"
    else:
        yield f"To change it: {file}; keys: equipour help house/"
    if not found.prep.measured:
        yield f'Once it is cooked and weighed: equipour recipe {key} --weight "950 g" --brix 52'
    yield f"Once it is bottled: equipour prep {key} --stock"


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
