"""Write a house recipe from plain lines, or what was measured of one."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date
from pathlib import Path

from solver.errors import BadInput, BadInputs, Where
from solver.files.atomic import FileChange, FilePlace
from solver.files.checked import check
from solver.files.read import ABSENT, version_at
from solver.files.toml import TomlText, parse_toml, read_toml
from solver.kitchen.batch import ETHANOL
from solver.pantry.bar import Bar
from solver.pantry.batches import plain_key
from solver.pantry.house_file import restated
from solver.pantry.house_names import OURS
from solver.pantry.recipe import Dish, MeasuredTable, Recipe, read_recipe
from solver.pantry.recipe_file import head_text, recipe_text, with_measured, with_recipe
from solver.pantry.stocked_as import is_bare
from solver.pantry.vocabulary import KINDS
from solver.printable import printable, short
from solver.tasks.prep.kind_of import WentIn, character_of, kind_of
from solver.tasks.prep.prepare import Prep, prepare
from solver.tasks.prep.recipe_lines import Remark, SaidLine, StepDone
from solver.tasks.prep.said_amounts import EXAMPLES, GoesIn

HOUSE = "house"
_UNKNOWN_KIND = "batch"
"""A kind that asks nothing of what it is, until that is known."""


@dataclass(frozen=True)
class SaidOfRecipe:
    """A recipe as stated: `kind` and `character` only if they are not to be derived.

    `measured` has what came out, by the keys of a recipe's table, on the day `made`.
    """

    name: str
    lines: Sequence[SaidLine] = ()
    kind: str | None = None
    character: Sequence[str] = ()
    measured: Mapping[str, str] | None = None
    made: date | None = None


@dataclass(frozen=True)
class WrittenRecipe:
    """A recipe to be written, and its result; `new` is true if there was no such file.

    `guessed` is true if its kind was derived; `assumed` states assumptions about its amounts.
    """

    prep: Prep
    bar: Bar
    change: FileChange
    new: bool
    guessed: bool = False
    assumed: tuple[str, ...] = ()

    @property
    def recipe(self) -> Recipe:
        """The recipe as its file will state it."""
        return self.prep.recipe

    @property
    def path(self) -> Path:
        """The file."""
        return self.change.place.path


def write_recipe(said: SaidOfRecipe, bar: Bar, *, replacing: bool = False) -> WrittenRecipe:
    """Make a recipe from its lines; if `replacing`, in place of one of the same name.

    Figures, names, allergens and cautions of an existing file are kept.

    Raises:
        BadInput, BadInputs: there is no bar, the name is no name or is taken, nothing goes in, or
            no kitchen can do it.
    """
    root = _root(bar)
    key = _standing(said.name, bar, replacing=replacing)
    if key is not None:
        old = bar.recipes.get(key)
        return _replaced(said, key, old.file if old else read_toml(_origin(key, bar)), bar)
    name, key = _name(said.name, bar)
    path = root / HOUSE / f"{key}.toml"
    if version_at(path) != ABSENT:
        raise BadInput("there is such a file already", where=Where(path), remedy="Look into it.")
    return _new(said, name, key, path, bar)


def check_name(name: str, bar: Bar, *, replacing: bool = False) -> None:
    """Refuse a name under which no recipe can be written.

    Raises:
        BadInput: as `write_recipe`.
    """
    _root(bar)
    if _standing(name, bar, replacing=replacing) is None:
        _name(name, bar)


def note_measured(said: SaidOfRecipe, bar: Bar) -> WrittenRecipe:
    """Replace what was measured of an existing recipe in its file.

    Raises:
        BadInput, BadInputs: there is no such recipe, or what was measured cannot be.
    """
    recipe = bar.recipe(said.name)
    if recipe is None:
        what = f"there is no recipe for '{short(said.name)}' in this bar"
        raise BadInput(what, remedy=f"Say what goes in, and what is done: {EXAMPLES}.")
    measured = _measured(said)
    made = bar.happened(said.made)
    text = with_measured(recipe.file, recipe.key, measured, made)
    return _written(recipe.file, recipe.key, text, bar)


def _standing(name: str, bar: Bar, *, replacing: bool) -> str | None:
    """The key of the house ingredient of that name; None if there is none.

    Raises:
        BadInput: it has something, and nobody said that it may be replaced.
    """
    own = f"{OURS[0]} {name}"
    recipe = bar.recipe(name) or (bar.recipe(own) if bar.library.get(name) else None)
    item = bar.library.get(name)
    path: Path | None
    if recipe is not None:
        key, path = recipe.key, recipe.file.path
    elif item is not None and item.key in bar.house:
        key, path = item.key, item.origin
    else:
        return None
    if not replacing:
        what = f"there is a recipe for {key} already" if recipe else f"the house has {key} already"
        remedy = "Call it otherwise, or add --replace for another recipe of it."
        raise BadInput(what, where=Where(path) if path else None, remedy=remedy)
    return key


def _root(bar: Bar) -> Path:
    if bar.root is None:
        remedy = "Make one with `equipour init`, or give one with --bar."
        raise BadInput("there is no bar to put it into", remedy=remedy)
    return bar.root


def _origin(key: str, bar: Bar) -> Path:
    item = bar.library.find(key)
    if item.origin is None:
        raise BadInput(f"{key} is in no file")
    return item.origin


def _name(said: str, bar: Bar) -> tuple[str, str]:
    """The name and key of a new recipe: "house ginger syrup" if the library has a ginger syrup."""
    name = " ".join(printable(said).split())
    if not any(sign.isalpha() for sign in plain_key(name)):
        raise BadInput(
            f"'{short(said)}' makes no name of a file", remedy="Call it by letters from a to z."
        )
    names = (name, *(f"{word} {name}" for word in OURS))
    free = next((each for each in names if not _taken(each, bar)), None)
    if free is None:
        what = f"'{short(name)}' is a name of something else already"
        raise BadInput(what, remedy="Call it otherwise.")
    return free, plain_key(free)


def _taken(name: str, bar: Bar) -> bool:
    known = (bar.library.get(name), bar.library.get(plain_key(name)))
    return any(known) or bar.recipe(name) is not None or plain_key(name) in bar.recipes


def _new(said: SaidOfRecipe, name: str, key: str, path: Path, bar: Bar) -> WrittenRecipe:
    recipe = _recipe_text(said, key)

    def text(kind: str, character: Sequence[str]) -> str:
        says = KINDS.get(kind, "")
        return f"{head_text(key, name, kind, says, character, bar.today)}\n{recipe}"

    absent = TomlText(path, "", {})
    assumed = tuple(line.assumed for line in said.lines if isinstance(line, GoesIn))
    kind, character = said.kind, tuple(said.character)
    if kind is None or not character:
        draft = _written(absent, key, text(kind or _UNKNOWN_KIND, ()), bar)
        went_in = _went_in(draft.prep, draft.bar)
        kind = kind or _told_kind(draft.prep, went_in)
        character = character or character_of(went_in)
    written = _written(absent, key, text(kind, character), bar)
    told = tuple(filter(None, assumed))
    return replace(written, new=True, guessed=said.kind is None, assumed=told)


def _replaced(said: SaidOfRecipe, key: str, file: TomlText, bar: Bar) -> WrittenRecipe:
    text = with_recipe(file, key, _recipe_text(said, key))
    changes = {"kind": said.kind, "character": list(said.character) or None}
    if values := {name: value for name, value in changes.items() if value is not None}:
        text = restated(TomlText(file.path, text, parse_toml(text, file.path)), key, values)
    written = _written(file, key, text, bar)
    assumed = (line.assumed for line in said.lines if isinstance(line, GoesIn))
    return replace(written, assumed=tuple(filter(None, assumed)))


def _told_kind(prep: Prep, went_in: Sequence[WentIn]) -> str:
    kind = kind_of(prep.figures, went_in)
    if kind is None:
        what = f"what sort of thing {prep.recipe.dish.name} is cannot be told by what goes in"
        remedy = "Say it, like --kind syrup/spice; `equipour help kinds` lists them."
        raise BadInput(what, remedy=remedy)
    return kind


def _went_in(prep: Prep, bar: Bar) -> list[WentIn]:
    """The inputs, as `kind_of` needs them."""
    found: list[WentIn] = []
    for put, item in zip(prep.puts, prep.numbers.cooking.inputs, strict=True):
        known = bar.bottles.get(put.key)
        recipe = bar.recipes.get(put.key)
        about: Dish | None = recipe.dish if recipe is not None else None
        kind = about.kind if about else known.kind if known else ""
        character = about.character if about else known.character if known else ()
        found.append(WentIn(kind, character, put.grams, put.grams * item.per_gram[ETHANOL]))
    return found


def _recipe_text(said: SaidOfRecipe, key: str) -> str:
    """The content of the file; an input given twice is added again as a step.

    Raises:
        BadInput: nothing goes in, or not before something is done to it.
    """
    inputs: dict[str, tuple[str, str]] = {}
    steps: list[Mapping[str, str]] = []
    remarks: list[str] = []
    for line in said.lines:
        if isinstance(line, Remark):
            remarks.append(line.text)
        elif isinstance(line, StepDone):
            steps.append({**line.step, **_noted(remarks)})
            remarks = []
        elif steps or line.ingredient in inputs:
            steps.append({"do": "add", "ingredient": line.ingredient, "amount": line.amount})
        else:
            inputs[line.ingredient] = (line.amount, line.assumed)
    if not inputs:
        what = "nothing goes in" if not steps else "the first thing that is done has nothing to do"
        raise BadInput(what, remedy=f"Say first what goes in: {EXAMPLES}.")
    if remarks and steps:
        steps[-1] = {**steps[-1], **_noted([*filter(None, [steps[-1].get("note", "")]), *remarks])}
    measured = _measured(said) if said.measured else {}
    return recipe_text(key, inputs, steps, measured, said.made)


def _noted(remarks: Sequence[str]) -> dict[str, str]:
    """The note of a step from its remarks. Empty without any."""
    return {"note": "; ".join(remarks)} if remarks else {}


def _measured(said: SaidOfRecipe) -> dict[str, str]:
    """What was measured, in the notation of recipes; a bare number of Brix gets its unit.

    Raises:
        BadInput: nothing was.
    """
    found = {name: text.strip() for name, text in (said.measured or {}).items() if text.strip()}
    if not any(name in found for name in ("weight", "volume", "brix")):
        what = f"what to change of {short(said.name)} is not said"
        remedy = 'Say what came out, like --weight "950 g" --brix 52; or lines, with --replace.'
        raise BadInput(what, remedy=remedy)
    if "brix" in found and is_bare(found["brix"]):
        found["brix"] = f"{found['brix']} Brix"
    check(MeasuredTable, found, _Typed())
    return found


class _Typed:
    """The source of what is in no file yet, for messages."""

    def where(self, keys: Sequence[str | int]) -> Where:
        """The option that states it."""
        return Where(f"--{str(keys[-1]).replace('_', '-')}") if keys else Where("what was said")


def _written(file: TomlText, key: str, text: str, bar: Bar) -> WrittenRecipe:
    """The recipe of a text, in the bar and evaluated.

    Raises:
        BadInput, BadInputs: what is wrong with it; its lines are in no file yet.
    """
    try:
        recipe = read_recipe(key, TomlText(file.path, text, parse_toml(text, file.path)))
        own = replace(bar, recipes={**bar.recipes, key: recipe})
        prep = prepare(recipe, own, own.today)
    except BadInput as error:
        raise error.at(_elsewhere(error.where, file.path)) from None
    except BadInputs as errors:
        placed = [each.at(_elsewhere(each.where, file.path)) for each in errors.errors]
        raise BadInputs(placed) from None
    version = file.version if file.raw else ABSENT
    change = FileChange(FilePlace(file.path, version), file.encoded(text))
    return WrittenRecipe(prep, own, change, new=False)


def _elsewhere(where: Where | None, path: Path) -> Where | None:
    """A source, unless it is in the file that is not written yet."""
    return None if where is None or where.source == path else where
