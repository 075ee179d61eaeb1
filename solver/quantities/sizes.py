"""How large a bar's measures are: an ounce, a dash, a bar spoon. Each default has its source."""

from __future__ import annotations

from dataclasses import dataclass, field, fields

TRADE_ROUNDING = 0.016
"""Share by which two pours may differ and be said the same: a 30 mL ounce is 1.44 % off."""


def _size(default: float, source: str) -> float:
    size: float = field(default=default, metadata={"source": source})
    return size


_PRACTICE = "common practice, no source"


@dataclass(frozen=True)
class Measures:
    """Sizes of the measures of one bar, in mL unless the name says grams.

    The defaults are the United States trade's; `source_of` tells where each comes from. A bar sets
    its own in bar.toml.
    """

    ounce_ml: float = _size(29.5735, "United States fluid ounce, 29.5735295625 mL by definition")
    dash_ml: float = _size(
        0.92, "1/32 ounce; 0.6-1.0 mL published; the fill of the bottle changes it"
    )
    bar_spoon_ml: float = _size(3.7, f"1/8 ounce; bars use 2.5-5 mL: {_PRACTICE}")
    drop_ml: float = _size(0.05, "about 20 drops per mL, from memory")
    splash_ml: float = _size(7.5, f"about 1/4 ounce: {_PRACTICE}")
    teaspoon_ml: float = _size(4.92892, "1/6 United States fluid ounce, by definition")
    tablespoon_ml: float = _size(14.7868, "1/2 United States fluid ounce, by definition")
    cup_ml: float = _size(236.588, "8 United States fluid ounces, by definition")
    sugar_cube_g: float = _size(2.5, f"small cube; 2.3-5 g by brand, so weigh yours: {_PRACTICE}")
    standard_drink_g: float = _size(
        14.0, "alcohol in a United States standard drink: NIAAA; a bar's jurisdiction sets its own"
    )

    @classmethod
    def source_of(cls, name: str) -> str:
        """Where the default of the measure `name` (a field, such as "dash_ml") comes from."""
        return {item.name: str(item.metadata["source"]) for item in fields(cls)}[name]
