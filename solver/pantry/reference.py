"""What each file of a bar may hold: its tables, and the models that read them."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace

from solver.files.checked import Model
from solver.files.keys import KeyWords, keys_of
from solver.measures import MEASURES
from solver.pantry import vocabulary as words
from solver.pantry.bar_file import BarTable, GlassTable, MeltTable, Sizes
from solver.pantry.bar_remarks import Opinions
from solver.pantry.bar_words import Word, read_bar_words
from solver.pantry.cost_settings import CostingTable
from solver.pantry.defaults import load_defaults
from solver.pantry.figure import Figure
from solver.pantry.folders import WORDS_FILE
from solver.pantry.guests import Guest
from solver.pantry.ingredient import DRY_KINDS, RAW_FIGURES, Ingredient
from solver.pantry.ingredient_table import figure_units
from solver.pantry.plan_file import NightTable, PlanTable
from solver.pantry.profile import Part, Profile
from solver.pantry.profile_sources import MovedParts, ProfileSource, UsualSource
from solver.pantry.recipe import Accuracy, Dish, MeasuredTable, RecipeStep, RecipeTable
from solver.pantry.shelf_row import Columns
from solver.pantry.spec import Approved, Spec, SpecPour, Tasting
from solver.pantry.targets import Target


@dataclass(frozen=True)
class TableWords:
    """A table of a file: how it begins, what it is, and its keys by the model that reads them.

    Keys in `elsewhere` are tables of their own, or stand in its header; those in `filled` have a
    value before the model looks.
    """

    header: str
    says: str
    model: type[Model]
    elsewhere: tuple[str, ...] = ()
    filled: tuple[str, ...] = ()

    @property
    def keys(self) -> tuple[KeyWords, ...]:
        """Its keys, in order; a figure of an ingredient with its unit."""
        found = [
            replace(key, required=False) if key.name in self.filled else key
            for key in keys_of(self.model, self.elsewhere)
        ]
        if self.model is not Ingredient:
            return tuple(found)
        found.sort(key=lambda key: key.name in Opinions.model_fields)
        return tuple(map(_with_unit, found))


@dataclass(frozen=True)
class FileWords:
    """A file of a bar: what it is called, what it is, and its tables."""

    name: str
    says: str
    tables: tuple[TableWords, ...]


def _with_unit(key: KeyWords) -> KeyWords:
    """A key of an ingredient; of a figure with the unit that it is in."""
    unit, weighed = figure_units("ml").get(key.name), figure_units("g").get(key.name)
    if unit is None or weighed is None:
        return key
    if key.name in RAW_FIGURES or unit == weighed:
        return replace(key, holds=f"a figure in {weighed}")
    return replace(key, holds=f"a figure in {unit} ({weighed} of what is weighed)")


FILES: tuple[FileWords, ...] = (
    FileWords(
        "bar.toml",
        "the settings of the bar; it makes a folder a bar",
        (
            TableWords("", "settings", BarTable, ("measures", "glasses", "melt", "costing")),
            TableWords("[measures]", "sizes of the bar's own measures", Sizes),
            TableWords("[glasses.NAME]", "a glass of the bar", GlassTable),
            TableWords("[melt.TECHNIQUE]", "what the ice does: a weighing, or a factor", MeltTable),
            TableWords("[costing]", "what is counted beside the pours, and asked", CostingTable),
        ),
    ),
    FileWords(
        "shelf.csv",
        "the bottles, one row each; columns in any order, others are kept",
        (TableWords("", "columns", Columns),),
    ),
    FileWords(
        "house/",
        "files with ingredients of the house: their figures, their recipe, or both",
        (
            TableWords("[KEY]", "an ingredient by its figures", Ingredient, filled=("tool",)),
            TableWords("NAME = { ... }", "a figure", Figure, ("value",)),
            TableWords("[KEY]", "an ingredient that has only a recipe yet", Dish),
            TableWords(
                "[KEY.recipe]",
                "how it is made; inputs may be a table of its own, [KEY.recipe.inputs]",
                RecipeTable,
                ("steps", "measured", "accuracy"),
            ),
            TableWords("[[KEY.recipe.steps]]", "one step after another", RecipeStep),
            TableWords("[KEY.recipe.measured]", "what came out", MeasuredTable),
            TableWords("[KEY.recipe.accuracy]", "how well it was measured", Accuracy),
        ),
    ),
    FileWords(
        "specs/",
        "a file for each drink of the bar",
        (
            TableWords("", "the drink", Spec, ("pours", "approved", "tasted")),
            TableWords("[[pours]]", "what is poured, one after another", SpecPour),
            TableWords("[approved]", "what it was when it was approved", Approved),
            TableWords("[[tasted]]", "what the bar thought of it, day by day", Tasting),
        ),
    ),
    FileWords(
        "profiles/",
        "a file for each target of the bar's own, called as the profile is",
        (
            TableWords(
                "",
                "the sort of drink",
                Profile,
                ("parts", "aims", "limits", "tolerances", "source", "usual", "moves"),
            ),
            TableWords("[parts.NAME]", "a place for ingredients", Part, ("name",)),
            TableWords(
                "[aims], [limits], [tolerances]",
                "measures of the finished drink, each a line: measure = text",
                Target,
            ),
            TableWords("[source]", "where its numbers are from", ProfileSource),
            TableWords("[usual]", "where what is usual in its parts is from", UsualSource),
            TableWords(
                "[moves]", "what is poured otherwise first when a bottle changes", MovedParts
            ),
        ),
    ),
    FileWords(
        "plans/",
        "a file for each run of nights to come, for `equipour plan`",
        (
            TableWords("", "the plan", PlanTable, ("nights",)),
            TableWords("[[nights]]", "one night after another", NightTable),
        ),
    ),
    FileWords(
        WORDS_FILE,
        "words of the bar's own for `--word`, beside the built-in ones",
        (TableWords("[WORD]", "what a word stands for: one range or more", Word, ("key",)),),
    ),
    FileWords(
        "guests.toml",
        "many guests at a time, for `equipour check --requests`; any name will do",
        (TableWords("[[guests]]", "what one guest asks", Guest, filled=("name",)),),
    ),
)

_LISTS: Mapping[str, Mapping[str, str]] = {
    "kinds": words.KINDS,
    "characters": words.CHARACTERS,
    "allergens": words.ALLERGENS,
    "animal origins": words.ANIMAL_ORIGINS,
    "things to declare": words.DECLARATIONS,
    "techniques": words.TECHNIQUE_NAMES,
    "stages": words.STAGES,
    "moves": words.MOVES,
    "tools": words.TOOLS,
    "steps": words.STEPS,
    "strainers": words.STRAINERS,
    "acids": words.ACIDS,
    "bases": words.BASES,
}


def lists() -> Mapping[str, Mapping[str, str]]:
    """The lists of words that files use, each word with what it means."""
    defaults = load_defaults()
    return {
        **_LISTS,
        "built-in words of --word": {
            key: stated.word.says for key, stated in read_bar_words(None).items()
        },
        "measures": {name: measure.label for name, measure in MEASURES.items()},
        "pour sets": {name: each.says for name, each in defaults.pour_sets.items()},
        "glasses": {name: each.says for name, each in defaults.glasses.items()},
    }


def find_list(name: str) -> str | None:
    """The name of the list that somebody means, in the singular or plural."""
    asked = " ".join(name.casefold().split())
    names = {each: (each, each.removesuffix("s"), each.partition(" of ")[0]) for each in lists()}
    return next((each for each, known in names.items() if asked in known), None)


@dataclass(frozen=True)
class RawNeed:
    """A figure that raw stuff must state, its unit, and why."""

    name: str
    unit: str
    why: str


def raw_needs() -> tuple[RawNeed, ...]:
    """What raw stuff, and anything else that is weighed, must state: required keys of any
    ingredient first, then what only raw stuff must.
    """
    units = figure_units("g")
    own = [
        RawNeed(key.name, units[key.name], key.says.partition(" Write")[0])
        for key in keys_of(Ingredient)
        if key.required and key.name in units
    ]
    return (
        *own,
        *(
            RawNeed(name, units[name], f"{why[:1].upper()}{why[1:]}.")
            for name, why in RAW_FIGURES.items()
        ),
    )


RAW_SAYS = (
    'Raw stuff has per = "g", and its figures are of 100 g as bought and trimmed. '
    f"Of what is of the kinds {', '.join(DRY_KINDS)} nobody asks how much is water."
)


def find_file(name: str) -> FileWords | None:
    """The file that somebody means: by its name, with its slash or ending or without."""
    asked = name.casefold().rstrip("/")
    for each in FILES:
        bare = each.name.rstrip("/")
        if asked in (bare, bare.partition(".")[0], bare.rstrip("s")):
            return each
    return None
