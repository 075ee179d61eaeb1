"""An ingredient: what it is, what is in it, how it is measured, whom it can harm."""

from __future__ import annotations

from collections.abc import Mapping
from functools import lru_cache
from pathlib import Path
from typing import TYPE_CHECKING, Annotated, Literal, Self

from pydantic import Field, model_validator

from solver.errors import BadInput, Where
from solver.files.checked import FieldWords, Key, Number, Text, mistake, one_of
from solver.files.near_words import near_words
from solver.files.toml import read_toml
from solver.pantry import vocabulary as words
from solver.pantry.bar_remarks import Opinions
from solver.pantry.figure import Figure, figure_example
from solver.printable import short

if TYPE_CHECKING:
    import numpy as np
    import numpy.typing as npt

    from solver.quantities import WrittenAmount

Allergen = Annotated[str, one_of(words.ALLERGENS, "an allergen", "allergens")]
Animal = Annotated[str, one_of(words.ANIMAL_ORIGINS, "an animal origin")]
Declaration = Annotated[str, one_of(words.DECLARATIONS, "something to declare")]
Character = Annotated[str, one_of(words.CHARACTERS, "a character", "characters")]
Kind = Annotated[str, one_of(words.KINDS, "a kind", "kinds")]
AcidName = Annotated[str, FieldWords("an acid")]
Tool = Annotated[str, one_of(words.TOOLS, "a tool")]

_SHARES_ADD_UP_WITHIN = 0.005


class Ingredient(Opinions):
    """Something that is poured, weighed or counted into a drink.

    Units: `abv` % vol; `sugar`, `acid`, `other` grams per 100 mL, or per 100 g where `per` is "g";
    `acid` as anhydrous citric acid by titration, `acids` the shares of it; `density` g/mL, only
    where measured; `life` days; `piece` mL of one piece, or g of what is weighed. Of that, too:
    `moisture` grams per 100 g, `insoluble` the part of the rest that never dissolves, `bulk` g/mL
    of the heap in a cup. `allergens` or `animal` None means that nobody has said: then nothing is
    ruled out. They and the rest of what a guest is told are only what its own file says: what comes
    with its recipe, and with the ingredients that it is `made_of`, is added by `pantry.disclosure`.
    """

    key: Key
    name: Text = Field(description='What it is called, like name = "rhubarb syrup".')
    aliases: tuple[Text, ...] = Field(default=(), description="Other names that it answers to.")
    kind: Kind = Field(
        description="What sort of thing it is, which profiles go by, like syrup/fruit."
    )
    character: tuple[Character, ...] = Field(default=(), description="What it tastes of.")
    abv: Figure = Field(description=figure_example("abv", "pct", 0, "Its strength, % vol."))
    sugar: Figure = Field(description=figure_example("sugar", "g_100ml", 60, "Its sugar."))
    acid: Figure = Field(
        description=figure_example("acid", "g_100ml", 0.9, "Its acid, as citric acid.")
    )
    acids: Mapping[AcidName, Number] = Field(
        default_factory=dict, description="Which acids its acid is, as shares that add up to 1."
    )
    density: Figure | None = Field(
        default=None, description="Grams of one millilitre, only where somebody has measured it."
    )
    other: Figure | None = Field(
        default=None, description="What else is dissolved: fat, protein, minerals."
    )
    moisture: Figure | None = Field(
        default=None, description="Of what is weighed: how much of it is water."
    )
    insoluble: Figure | None = Field(
        default=None,
        description="Of what is weighed: how much never dissolves and stays in the strainer.",
    )
    bulk: Figure | None = Field(
        default=None, description="Of what is weighed: grams of one millilitre, heaped in a cup."
    )
    allergens: frozenset[Allergen] | None = Field(
        default=None,
        description="Allergens in it; [] says none, no line that nobody knows.",
    )
    may_contain: frozenset[Allergen] = Field(
        default=frozenset(), description="Allergens that it may hold."
    )
    declare: frozenset[Declaration] = Field(
        default=frozenset(), description="What a guest must be told that is no allergen."
    )
    animal: frozenset[Animal] | None = Field(
        default=None,
        description="What of it comes from animals; [] says none, no line that nobody knows.",
    )
    may_animal: frozenset[Animal] = Field(
        default=frozenset(), description="What of it may come from animals."
    )
    allergens_source: Annotated[str, FieldWords("text")] = Field(
        default="", description="Where its allergens are from, like the label."
    )
    made_of: tuple[Text, ...] | None = Field(
        default=None, description="Ingredients that it is made of, where it has no recipe."
    )
    holds: Mapping[Text, Number] = Field(
        default_factory=dict,
        description="Of a drink mixed ahead: what a serve holds, in mL or g, as it was mixed.",
    )
    serve_ml: Number | None = Field(
        default=None, description="Of a drink mixed ahead: mL of a serve, as it was mixed."
    )
    technique: Text | None = Field(
        default=None, description="Of a drink mixed ahead: how the drink was made, like stir."
    )
    was_made_of: tuple[Text, ...] = Field(
        default=(),
        description="Keys of everything in what stands on the shelf, as it was made.",
    )
    may_hold: tuple[Text, ...] = Field(
        default=(), description="Of a drink mixed ahead: keys of what its words may mean."
    )
    unclear: tuple[Text, ...] = Field(
        default=(), description="Of a drink mixed ahead: what in it nobody knows."
    )
    bought: bool = Field(
        default=False, strict=True, description="Whether it is bought as it is, and not made here."
    )
    life: Figure | None = Field(default=None, description="Days that it keeps once opened or made.")
    life_in_shell: Figure | None = Field(
        default=None, description="Of eggs: days that they keep in their shells, from being bought."
    )
    cautions: tuple[Text, ...] = Field(
        default=(), description="What may hurt whoever drinks it, said with every drink."
    )
    kitchen_cautions: tuple[Text, ...] = Field(
        default=(), description="What may hurt whoever cooks with it or keeps it; on no drink."
    )
    tool: Tool = Field(description="How it is measured; without it, as its kind usually is.")
    piece: Figure | None = Field(
        default=None, description="Of what is counted: millilitres of one piece."
    )
    per: Literal["ml", "g"] = Field(
        default="ml",
        description="Whether it is poured (ml), or weighed (g) with its figures per 100 g.",
    )
    sold_by: Literal["volume", "weight"] = Field(
        default="volume",
        description="What plain ounces of a jar or a bottle of it measure: volume, or weight.",
    )
    note: Annotated[str, FieldWords("text")] = Field(
        default="", description="Anything worth remembering."
    )
    origin: Path | None = None

    def __hash__(self) -> int:
        """The shares of acids can't be hashed; these tell ingredients apart well enough."""
        return hash((self.key, self.kind, self.abv.value, self.sugar.value, self.acid.value))

    @model_validator(mode="after")
    def _consistent(self) -> Self:
        if self.abv.value > 100:
            raise mistake("it is above 100 % vol", key="abv")
        if (self.tool == "weigh") != (self.per == "g"):
            what = f"tool '{self.tool}' and per '{self.per}' do not go together"
            why = "what is weighed has its figures per 100 g, and nothing else does"
            raise mistake(what, why=why)
        if self.tool == "piece" and not (self.piece and self.piece.value > 0):
            raise mistake("the size of one piece is missing", why="it is counted", key="piece")
        self._check_solids()
        self._check_acids()
        return self

    def _check_solids(self) -> None:
        figures = (self.sugar, self.acid, self.other, self.moisture)
        solids = sum(figure.value for figure in figures if figure)
        most = 100.0 if self.per == "g" else 200.0
        if solids > most + 0.5:
            what = f"sugar, acid, water and other come to {solids:g} g"
            why = f"{most:g} g is the most there can be in 100 {self.unit}"
            raise mistake(what, why=why, key="sugar")
        if self.per == "g" and self.abv.value:
            raise mistake("it is above zero", why="what is weighed is dry", key="abv")
        for name in ("moisture", "insoluble", "bulk"):
            if self.per != "g" and getattr(self, name):
                raise mistake("only what is weighed has it", key=name)
        rest = most - (solids - (self.other.value if self.other else 0))
        if self.insoluble and self.insoluble.value > rest + 0.5:
            what = f"{self.insoluble.value:g} g cannot be without sugar, acid and water"
            raise mistake(what, why=f"they leave {rest:g} g", key="insoluble")
        self._check_raw()
        if self.density and not 0.5 <= self.density.value <= 2.5:
            what = f"{self.density.value:g} g/mL is the density of no drink"
            raise mistake(what, key="density")

    def _check_raw(self) -> None:
        """Of what is weighed and not dry, what is neither water nor named would count as solids."""
        if self.per != "g" or any(map(self.is_kind, DRY_KINDS)):
            return
        needed = ("moisture", "insoluble") if self.is_kind("raw") else ("moisture",)
        for name in needed:
            if getattr(self, name) is None:
                why = RAW_FIGURES[name]
                remedy = figure_example(name, "g_100g", 90 if name == "moisture" else 2)
                raise mistake("it is missing", key=name, why=why, remedy=remedy)
        figures = (self.sugar, self.acid, self.other, self.moisture, self.insoluble)
        named = sum(figure.value for figure in figures if figure)
        if self.is_kind("raw") and named < LEAST_NAMED_G:
            what = f"of 100 g, {100 - named:g} g are neither water, sugar, acid nor left over"
            why = "all of it would count as dissolved in the drink"
            remedy = f"They should come to {LEAST_NAMED_G:g} g at least: look at moisture first."
            raise mistake(what, key="moisture", why=why, remedy=remedy)

    def _check_acids(self) -> None:
        unknown = [acid for acid in self.acids if acid not in words.ACIDS]
        if unknown:
            what = f"'{short(unknown[0])}' is not an acid known here"
            near = near_words(unknown[0], words.ACIDS)
            remedy = f"Use one of: {', '.join(words.ACIDS)}."
            raise mistake(what, near=near, remedy=remedy, key="acids")
        total = sum(self.acids.values())
        if self.acid.value > 0 and abs(total - 1) > _SHARES_ADD_UP_WITHIN:
            what = f"the shares add up to {total:g}" if self.acids else "the shares are missing"
            why = "acids are shares of all the acid, so they add up to 1"
            remedy = "For example: acids = { citric = 0.95, malic = 0.05 }."
            raise mistake(what, why=why, remedy=remedy, key="acids")

    @property
    def unit(self) -> str:
        """The unit that it is kept and priced in: "mL", or "g" for what is weighed."""
        return "g" if self.per == "g" else "mL"

    @property
    def loose(self) -> bool:
        """Whether it is bought and counted by the piece, and pressed or separated: fruit that is
        weighed, and whole eggs."""
        fruit = self.per == "g" and self.is_kind("raw/fruit")
        return self.piece is not None and (fruit or self.is_kind("egg/whole"))

    @property
    def counted_in(self) -> tuple[float, str]:
        """How people count it: how much one is, in `unit`, and the word for it."""
        if self.piece is not None and self.loose:
            return self.piece.value, "pieces"
        return 1.0, self.unit

    @property
    def life_days(self) -> float | None:
        """Days that it keeps once opened or made, where that is known."""
        return self.life.value if self.life else None

    @property
    def piece_ml(self) -> float | None:
        """Volume of one piece, for what is counted into a drink."""
        return self.piece.value if self.piece and self.per == "ml" else None

    def is_kind(self, prefix: str) -> bool:
        """Whether its kind is `prefix` or below it: "spirit/rum" is of the kind "spirit"."""
        return words.kind_within(self.kind, prefix)

    def answers_to(self, text: str) -> bool:
        """Whether `text` is its key, name or an alias, whatever the case and spacing."""
        return self.answers_to_any((text,))

    def answers_to_any(self, texts: tuple[str, ...]) -> bool:
        """Whether one of them is its key, name or an alias, whatever the case and spacing."""
        if not texts:
            return False
        return not _folded(texts).isdisjoint(_folded((self.key, self.name, *self.aliases)))

    def called(self, label: str) -> Ingredient:
        """The same ingredient by the bar's own name; what it was called before is an alias."""
        if label in ("", self.name):
            return self
        return self.model_copy(update={"name": label, "aliases": (self.name, *self.aliases)})

    def units(self, pour: WrittenAmount, example: str = "3/4 oz or 22.5 ml") -> float:
        """A pour in the unit that the ingredient is kept in: mL, or g where `per` is "g".

        Of what is weighed, an ounce is one of weight. An `example` is what is poured of it here.

        Raises:
            BadInput: it cannot be measured that way.
        """
        if pour.unit == self.per:
            return pour.value
        if pour.unit == "piece" and not pour.cut and self.piece is not None:
            return pour.value * self.piece.value
        what = f"{self.name} is not measured as '{pour.said}'"
        if self.per == "g" and pour.weight_g is not None:
            return pour.weight_g
        if self.per == "g":
            raise BadInput(
                what, why="it is weighed", remedy=f"Write it like {self.weight_like(pour)}."
            )
        if pour.unit == "g":
            return pour.value / self._density_g_ml()
        raise BadInput(what, why="it is not counted", remedy=f"Write it like {example}.")

    def kept_units(self, pour: WrittenAmount, example: str = "3/4 oz or 22.5 ml") -> float:
        """An amount as it is bought and kept, in its own unit; ounces may be those of its label.

        Raises:
            BadInput: as `units`.
        """
        if self.sold_by == "weight" and self.per == "ml" and pour.weight_g is not None:
            return pour.weight_g / self._density_g_ml()
        return self.units(pour, example)

    def weight_like(self, pour: WrittenAmount) -> str:
        """A weight of about as much as what was written."""
        if pour.unit != "ml":
            return "4 g"
        grams = pour.value * (self.bulk.value if self.bulk else 1.0)
        if grams < LARGE_WEIGHT_G:
            return f"{grams:.0f} g" if grams >= 1 else f"{grams:.1g} g"
        from solver.quantities.units import OUNCE_G

        return f"{grams:.0f} g or {grams / OUNCE_G:.0f} oz"

    def weight_g(self, units: float) -> float:
        """What so much of it weighs, in its own unit, g."""
        return units if self.per == "g" else units * self._density_g_ml()

    def _density_g_ml(self) -> float:
        from solver.mixture.blend import measure

        return float(measure(self.composition()).mass_g)

    def composition(self) -> npt.NDArray[np.float64]:
        """Grams of each column of `solver.mixture` in one mL, or in one g where `per` is "g".

        Shape (columns,).

        Raises:
            BadInput: its figures contradict each other.
        """
        from solver.mixture.label import from_dry, from_label

        acids = dict(self.acids)
        other = self.other.value if self.other else None
        try:
            if self.per == "g":
                return from_dry(
                    sugar_g_100g=self.sugar.value,
                    acid_g_100g=self.acid.value,
                    acids=acids,
                    other_g_100g=other or 0.0,
                    water_g_100g=self.moisture.value if self.moisture else 0.0,
                )
            return from_label(
                abv_pct=self.abv.value,
                sugar_g_100ml=self.sugar.value,
                acid_g_100ml=self.acid.value,
                acids=acids,
                density_g_ml=self.density.value if self.density else None,
                other_g_100ml=other,
            )
        except ValueError as error:
            what = f"the figures of {self.name} contradict each other"
            raise BadInput(what, where=self.where(), why=str(error)) from None

    def where(self, *keys: str | int) -> Where | None:
        """The line of its file that says what `keys` lead to; with none, where it begins."""
        if self.origin is None or self.origin.suffix != ".toml":
            return None
        return read_toml(self.origin).where([self.key, *keys])


DRY_KINDS = ("sugar", "acid", "seasoning")
"""Kinds of which what is weighed may be dry: nobody needs to say how much of it is water."""
LARGE_WEIGHT_G = 100.0
"""From where on a weight may be meant in ounces, too."""
LEAST_NAMED_G = 65.0
"""Grams in 100 of raw stuff that must be named: of tea leaves, which give most, 35 g dissolve."""
RAW_FIGURES = {
    "moisture": "what is not water would count as solids in the drink",
    "insoluble": "what never dissolves stays in the strainer, and the rest goes into the drink",
}
"""Why raw stuff must state a figure that nothing else needs."""


@lru_cache(maxsize=4096)
def _folded(names: tuple[str, ...]) -> frozenset[str]:
    """Names whatever their case and spacing: every part of every profile asks every bottle's."""
    return frozenset(" ".join(name.casefold().split()) for name in names)
