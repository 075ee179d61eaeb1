"""A recipe that was said: how it was understood, what it makes, and what to do next."""

from __future__ import annotations

from collections.abc import Iterator

from solver.pantry.recipe import RecipeStep
from solver.pantry.vocabulary import KINDS
from solver.show.text.prep import input_lines, prep_text
from solver.show.words.names_in_a_row import listed
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
