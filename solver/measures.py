"""The measures: every number about a finished drink that a limit, an aim or a goal can name.

This table is the only place that knows what a measure is. The search reads how it follows from the
totals of a drink, the display reads how it is said, the command line reads its option. A new
measure is one more entry.
"""

from __future__ import annotations

import enum
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import Final

from solver.quantities import show_number


@enum.unique
class Form(enum.Enum):
    """How a measure follows from the totals of the finished drink."""

    CONCENTRATION = "concentration"
    """100 × factor × total of `column`, per millilitre of finished volume."""
    VOLUME = "volume"
    """The finished volume in millilitres."""
    TOTAL = "total"
    """factor × total of `column`, whatever the volume."""
    COST = "cost"
    """The price of what is poured."""
    COUNT = "count"
    """How many ingredients the drink has."""
    CHANGES = "changes"
    """How many pours differ from those of the drink that it comes from."""
    SHIFT = "shift"
    """By how much they differ, in steps."""
    ODDNESS = "oddness"
    """How unusual the amounts of the pours are."""
    CHARACTER = "character"
    """How many usual pours there are of what carries a character."""


OF_POURS: Final = frozenset({Form.CHANGES, Form.SHIFT, Form.ODDNESS, Form.CHARACTER})
"""Forms of measures that are a sum of what each pour counts by itself."""


@dataclass(frozen=True)
class Measure:
    """One measure and everything that is said about it.

    `quantity` names the reader in `solver.quantities`; `noticeable` is one noticeable difference in
    `unit`, as a share of the aim where `noticeable_share` is set (then `noticeable` is its floor);
    `step` is what somebody would loosen a limit by; `aside` marks what people are told of only
    where they ask about it. `less` and `more` are what a drink is with less or more of it.

    `help` is what the option of its name says; "" for a measure that has none. `less_option` and
    `more_option` are options that compare, as (name, help): so many steps less or more than would
    be served otherwise. `tags` are what a character is: any of them will do.
    """

    name: str
    label: str
    unit: str
    quantity: str
    form: Form
    decimals: int
    column: str = ""
    factor: float = 1.0
    noticeable: float = 1.0
    noticeable_share: float = 0.0
    step: float = 1.0
    source: str = ""
    aside: bool = False
    less: str = ""
    more: str = ""
    help: str = ""
    less_option: tuple[str, str] | None = None
    more_option: tuple[str, str] | None = None
    tags: tuple[str, ...] = ()

    def __hash__(self) -> int:
        return hash(self.name)  # the search looks measures up for every batch of drinks

    @property
    def key(self) -> str:
        """Its name with its unit, as files and documents for programs have it: "abv_pct"."""
        suffix = _SUFFIXES.get(self.unit)
        return f"{self.name}_{suffix}" if suffix else self.name

    def unit_in(self, currency: str) -> str:
        """The unit as people read it; a cost is in the bar's `currency`."""
        return currency if self.form is Form.COST else self.unit

    def amount(self, value: float, currency: str = "") -> str:
        """A bound or an aim as people read it, with its unit: "15 % vol", "0.5 of a usual pour"."""
        if self.form is Form.CHARACTER and value <= 1:
            unit = "usual pour" if value == 1 else "of a usual pour"
        else:
            unit = self.unit_in(currency)
        return f"{self.number(value)} {unit}".rstrip()

    def number(self, value: float) -> str:
        """A bound or an aim as people read it: one place finer than the measure, no needless zeros.

        A price keeps its two places.
        """
        if self.form is Form.COST:
            return f"{value:.{self.decimals}f}"
        return show_number(value, self.decimals + 1)

    def tolerance(self, aim: float) -> float:
        """One noticeable difference at `aim`, in the measure's unit."""
        return max(self.noticeable, self.noticeable_share * aim)


_SUFFIXES: Final = {"% vol": "pct", "g/100 mL": "g_100ml", "mL": "ml", "g": "g"}


@dataclass(frozen=True)
class Comparison:
    """An option that compares: `sign` says which way its `measure` goes, `help` what it means."""

    word: str
    measure: Measure
    sign: float
    help: str


GOALS: Final = ("in-keeping", "cheapest", "lightest", "fewest")
"""What somebody may ask to be best of a drink: goals of the search, which has more for itself."""

ETHANOL_G_ML: Final = 0.78924
"""Density of ethanol at 20 °C: OIML R 22 (1975), cover erratum. Equals `mixture.ethanol`'s."""

_JND_ABV = (
    "1.03-1.32 % vol in wine of 11.5-13.4 %, Yu & Pickering, Am. J. Enol. Vitic. 2008 (abstract)"
)
_JND_TASTE = (
    "half of the Weber fractions 0.17 (sucrose) and 0.22 (citric acid), Schutz & Pilgrim 1957, "
    "from memory"
)
_JND_FILL = "a fill line moved by 5-8 mL is visible: common practice, no source"

MEASURES: Final[dict[str, Measure]] = {
    measure.name: measure
    for measure in (
        Measure(
            "abv", "strength", "% vol", "strength", Form.CONCENTRATION, 1,
            column="ethanol_g", factor=1 / ETHANOL_G_ML, noticeable=1.0, source=_JND_ABV,
            less="weaker", more="stronger",
            help="Strength: 17% is an aim, 15..18% a limit.",
            less_option=("lighter", "Less strong, % vol."),
            more_option=("stronger", "Stronger, % vol."),
        ),
        Measure(
            "sugar", "sugar", "g/100 mL", "concentration", Form.CONCENTRATION, 1,
            column="sugar_g", noticeable=0.5, noticeable_share=0.10, source=_JND_TASTE,
            less="drier", more="sweeter",
            help="Sugar, like 7 g/100ml; <=5 g is of the whole drink.",
            less_option=(
                "drier", "Less sweet than would be served otherwise, by so many noticeable steps.",
            ),
            more_option=("sweeter", "More sugar."),
        ),
        Measure(
            "sugar_total", "all sugar", "g", "mass", Form.TOTAL, 1,
            column="sugar_g", noticeable=0.8, noticeable_share=0.10, source=_JND_TASTE,
            aside=True,
            less="of less sugar", more="of more sugar",
        ),
        Measure(
            "acid", "acid", "g/100 mL", "concentration", Form.CONCENTRATION, 2,
            column="acid_g", noticeable=0.05, noticeable_share=0.10, step=0.1, source=_JND_TASTE,
            less="rounder", more="tarter",
            help="Acid as citric, like 0.8 g/100ml.",
            less_option=("rounder", "Less acid."), more_option=("tarter", "More acid."),
        ),
        Measure(
            "volume", "volume", "mL", "volume", Form.VOLUME, 0,
            noticeable=10.0, step=10.0, source=_JND_FILL,
            less="shorter", more="longer",
            help="In the glass, like 150 ml or <=5 oz.",
            less_option=("shorter", "Less in the glass."),
            more_option=("longer", "More in the glass."),
        ),
        Measure(
            "ethanol", "alcohol", "g", "ethanol", Form.TOTAL, 1,
            column="ethanol_g", noticeable=1.4,
            source="a tenth of a United States standard drink of 14 g: our own choice",
            less="lighter", more="heavier",
            help="Alcohol, like <=14 g.",
        ),
        Measure(
            "cost", "cost", "", "money", Form.COST, 2,
            noticeable=0.10, noticeable_share=0.10, step=0.10, source="our own choice",
            less="cheaper", more="dearer",
            help="Of one drink, like <=2.50.",
        ),
        Measure(
            "bottles", "ingredients", "", "count", Form.COUNT, 0,
            noticeable=1.0, source="our own choice",
            less="of fewer ingredients", more="of more ingredients",
            help="How many ingredients, like <=4.",
        ),
    )
}  # fmt: skip
"""Every measure by its name, in the order in which they are shown."""


SENSED: Final = tuple(MEASURES[name] for name in ("abv", "sugar", "acid", "volume"))
"""What is tasted and seen of a drink: its alcohol follows from these, its cost is only told."""


def asked_of(measures: Iterable[Measure]) -> dict[str, Measure]:
    """Those that have an option of their own, by its name."""
    return {measure.name: measure for measure in measures if measure.help}


def compared_of(measures: Iterable[Measure]) -> dict[str, Comparison]:
    """The options that compare, by their words."""
    return {
        option[0]: Comparison(option[0], measure, sign, option[1])
        for measure in measures
        for option, sign in ((measure.less_option, -1.0), (measure.more_option, 1.0))
        if option is not None
    }


CHANGES: Final = Measure(
    "changes", "changed pours", "", "count", Form.CHANGES, 0, source="our own choice"
)
SHIFT: Final = Measure(
    "shift", "change of the pours", "steps", "count", Form.SHIFT, 1, source="our own choice"
)
ODDNESS: Final = Measure(
    "oddness", "unusual amounts", "", "count", Form.ODDNESS, 2, source="our own choice"
)
"""Measures of pours and not of a drink: nothing in the glass shows them."""

_JND_ODOUR = (
    "Weber fractions of odours from 0.05 to 0.3, Cain, Science 1977, from memory: a quarter"
)


def character_measure(tags: Sequence[str]) -> Measure:
    """How loudly a character speaks: usual pours of what carries any of some tags.

    Equal for equal tags in equal order.
    """
    words = [tag.replace("-", " ") for tag in tags]
    label = " or ".join(filter(None, (", ".join(words[:-1]), words[-1])))
    return Measure(
        "/".join(tags), label, "usual pours", "pours", Form.CHARACTER, 1,
        noticeable=0.1, noticeable_share=0.25, step=0.25, source=_JND_ODOUR, tags=tuple(tags),
        less=f"lower in {label}", more=f"higher in {label}",
    )  # fmt: skip
