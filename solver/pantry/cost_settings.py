"""What a bar says of its costs: the table [costing] of bar.toml; where it does not, what is usual.

What has no usual value (tax, the price of ice, wages) counts nothing until somebody states it.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Annotated

from pydantic import Field

from solver.errors import BadInput
from solver.files.checked import FileReading, Key, Model, Number
from solver.pantry.text_types import Share, Time, Weight
from solver.printable import short
from solver.quantities import Measures, parse, parse_number


class CostingTable(Model):
    """The table as written; prices and wages in the bar's currency."""

    tax: Share | None = Field(default=None, description="The tax on the net price.")
    tax_on_top: bool | None = Field(
        default=None,
        description="Whether the prices on the list are before tax; unsaid, they are in the "
        "United States and Canada, and have it in them elsewhere.",
    )
    margin: Share | None = Field(
        default=None, description="The share of the net price that is to be kept."
    )
    pour_cost: Share | None = Field(
        default=None, description="Instead of it: the share that a drink may cost; 20% if unsaid."
    )
    waste: Share | None = Field(
        default=None, description="What is spilled and poured over; 3% if unsaid."
    )
    left_in_bottle: Share | None = Field(
        default=None, description="What never comes out of a bottle; 1% if unsaid."
    )
    ice_price_per_kg: Number | None = Field(
        default=None, description="The price of ice; without it, ice counts nothing."
    )
    ice_per_drink: Weight | None = Field(
        default=None, description="Ice for a drink that is made with it; 300 g if unsaid."
    )
    labour_per_hour: Number | None = Field(
        default=None, description="Wages; without them, work counts nothing."
    )
    price_step: Annotated[Number, Field(gt=0)] | None = Field(
        default=None, description="Prices are rounded up to it; 0.50 if unsaid."
    )
    hands_on: Mapping[Key, Time] = Field(
        default_factory=dict, description="Work in a batch of a house ingredient, by its key."
    )


@dataclass(frozen=True)
class Costing:
    """What is counted beside the pours; shares are of 1.

    `tax_on_top` says that guests pay the tax beside what is on the list, not in it.
    `pour_cost` is the share of the price before tax that a drink may cost: 18 to 24 % are usual.
    `waste` is what is spilled and poured over, 2 to 5 % with a jigger; `left_in_bottle` what never
    comes out, 5 to 8 mL of 750; `ice_g` of a drink that is made with ice; `hands_on_min` the
    minutes of work in a batch, by house ingredient. All but `tax`, `ice_price_kg` and
    `labour_per_hour`, which are 0 or None until stated, are common practice without a source.
    `stated` names what the bar said itself.
    """

    tax: float = 0.0
    tax_on_top: bool = False
    pour_cost: float = 0.20
    waste: float = 0.03
    left_in_bottle: float = 0.01
    ice_price_kg: float | None = None
    ice_g: float = 300.0
    labour_per_hour: float | None = None
    price_step: float = 0.50
    hands_on_min: Mapping[str, float] = field(default_factory=dict)
    stated: frozenset[str] = frozenset()

    @property
    def tax_known(self) -> bool:
        """Whether anybody said what the tax is: none at all may be said too."""
        return self.tax > 0 or "tax" in self.stated

    @property
    def ice_stated(self) -> bool:
        """Whether the bar said what ice a drink takes."""
        return "ice_per_drink" in self.stated

    @property
    def tax_in_list(self) -> float:
        """The tax, as a share of the net price, that is in a price on the list."""
        return 0.0 if self.tax_on_top else self.tax

    @property
    def tax_added(self) -> float:
        """The tax, as a share of the price on the list, that guests pay beside it."""
        return self.tax if self.tax_on_top else 0.0


def parse_share(text: str, *, most: float = 1.0) -> float:
    """A share like "78%", of 1; at most `most`.

    Raises:
        BadInput: it is none.
    """
    number, sign, rest = text.strip().partition("%")
    if not sign or rest.strip():
        raise BadInput(f"'{short(text)}' is not a share", remedy="Write it like 78%.")
    # A comma before three digits is one of decimals here: no share is of thousands of per cent.
    share = parse_number(re.sub(r"^([0-9]{1,3}),([0-9]{3})$", r"\1.\2", number.strip())) / 100
    if share > most:
        raise BadInput(
            f"'{short(text)}' is not a share", why=f"{most:.0%} is the most there can be"
        )
    return share


def pour_cost_of(margin: str | None, pour_cost: str | None) -> float | None:
    """The share of the net price that a drink may cost, of either way to say it; None for neither.

    Raises:
        BadInput: both are said, one can't be read, or nothing could be charged so.
    """
    if margin is not None and pour_cost is not None:
        what = "margin and pour cost say the same thing twice"
        raise BadInput(what, remedy="Give one: a margin of 80% is a pour cost of 20%.")
    if margin is None and pour_cost is None:
        return None
    share = 1 - parse_share(margin) if margin is not None else parse_share(pour_cost or "")
    if not 0 < share <= 1:
        what = f"'{short(margin or pour_cost or '')}' leaves no price that could be asked"
        raise BadInput(what, remedy="A margin is below 100%, a pour cost above 0%.")
    return share


def read_costing(
    table: CostingTable, measures: Measures, reading: FileReading, *, tax_on_top: bool
) -> Costing:
    """The table as numbers; what can't be read is noted in `reading` with its line.

    `tax_on_top` is what is usual where the bar is.
    """
    usual = Costing()
    shares = {}
    for name, most in (("tax", 1.0), ("waste", 0.5), ("left_in_bottle", 0.5)):
        text, default = getattr(table, name), getattr(usual, name)
        shares[name] = default if text is None else reading.take(
            ["costing", name], default, parse_share, text, most=most
        )  # fmt: skip
    target = reading.take(
        ["costing", "margin" if table.margin is not None else "pour_cost"],
        None, pour_cost_of, table.margin, table.pour_cost,
    )  # fmt: skip
    ice = table.ice_per_drink
    hands_on = {
        key: reading.take(["costing", "hands_on", key], 0.0, parse, text, "time")
        for key, text in table.hands_on.items()
    }
    step = table.price_step
    return Costing(
        **shares,
        tax_on_top=tax_on_top if table.tax_on_top is None else table.tax_on_top,
        pour_cost=usual.pour_cost if target is None else target,
        ice_price_kg=table.ice_price_per_kg,
        ice_g=usual.ice_g if ice is None else reading.take(
            ["costing", "ice_per_drink"], usual.ice_g, parse, ice, "mass", measures
        ),
        labour_per_hour=table.labour_per_hour,
        price_step=usual.price_step if step is None else step,
        hands_on_min=hands_on,
        stated=frozenset(name for name, value in table if value not in (None, {})),
    )  # fmt: skip
