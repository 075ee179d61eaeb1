"""The words in which a bar asks for a drink, from words.toml: each a list of ranges.

    [bright]
    says = "fresh and sharp"
    character = ["citrus or berry >=1", "no smoke"]   # in usual pours
    acid = "upper half"                               # of what the profile aims at
    sugar = "<=8 g/100ml"                             # or a range

The built-in words are in bar_words.toml; a bar's own come before them.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING, Annotated, Final

from pydantic import BeforeValidator, Field, create_model, model_validator

from solver.errors import BadInput, BadInputs
from solver.files.checked import FieldWords, Key, Model, Text, check, gather, mistake
from solver.files.toml import TomlText, read_toml
from solver.measures import MEASURES, asked_of
from solver.pantry.folders import BAR_WORDS, WORDS_FILE

Texts = Annotated[
    tuple[Text, ...],
    BeforeValidator(lambda value: (value,) if isinstance(value, str) else value),
    FieldWords("text, or a list of it"),
]
HALVES: Final = {"lower half": -1.0, "upper half": 1.0}
"""What is said of a measure in relation to the profile: which way of the middle of its band."""


class WordFile(Model):
    """A word, as a file has it; `Word` is this with a key for each measure that has an option."""

    key: Key
    says: Text = Field(default="", description="What is meant, in a few words.")
    character: Texts = Field(
        default=(),
        description='How loud a taste is, in usual pours, like "nut or honey >=1" or "no smoke".',
    )

    @property
    def measures(self) -> dict[str, str]:
        """What it says of measures, by their names."""
        names = asked_of(MEASURES.values())
        return {name: text for name in names if (text := getattr(self, name)) is not None}

    @model_validator(mode="after")
    def _asks_something(self) -> WordFile:
        if not self.character and not self.measures:
            remedy = 'Write character = ["citrus >=1"], or a measure like acid = "upper half".'
            raise mistake("the word asks nothing", remedy=remedy)
        return self


if TYPE_CHECKING:
    Word = WordFile
else:
    Word = create_model(
        "Word",
        __base__=WordFile,
        **{
            name: (
                Text | None,
                Field(
                    default=None,
                    description=f"{measure.label.capitalize()}: a range, or upper half or lower "
                    "half of what the profile aims at.",
                ),
            )
            for name, measure in asked_of(MEASURES.values()).items()
        },
    )


@dataclass(frozen=True)
class Stated:
    """A word, and the file that states it."""

    word: Word
    file: TomlText


def read_bar_words(root: Path | None) -> Mapping[str, Stated]:
    """The built-in words and those of the bar in a folder, by key.

    Raises:
        BadInput, BadInputs: everything that is wrong with the bar's file, each with its line.
    """
    own = None if root is None else root / WORDS_FILE
    paths = [BAR_WORDS, *([own] if own is not None and own.exists() else [])]
    found: dict[str, Stated] = {}
    mistakes: list[BadInput | BadInputs] = []
    for path in paths:
        file = read_toml(path)
        for key, table in file.data.items():
            try:
                found[key] = Stated(_word(key, table, file), file)
            except (BadInput, BadInputs) as error:
                mistakes.append(error)
    gather(mistakes)
    return found


def _word(key: str, table: object, file: TomlText) -> Word:
    if not isinstance(table, dict):
        what = f"{key} is no word"
        remedy = f"Begin it with [{key}], and write what it asks for below."
        raise BadInput(what, where=file.where([key]), remedy=remedy)
    return check(Word, {**table, "key": key}, file, [key])
