"""What a glass that nobody has measured would have to hold."""

from __future__ import annotations

import math

from solver.pantry.bar import Bar

OWN = "published"
"""Basis of a glass that the bar has measured itself."""


def brim_needed_ml(glass: str | None, volume_ml: float, bar: Bar) -> int | None:
    """How far such a glass must reach to take the drink; None where any of its name takes it.

    None, too, for a glass that the bar has measured: what it takes is a limit then.
    """
    if glass is None:
        return None
    found = bar.glass(glass)
    needed = math.ceil(volume_ml * found.brim_high_ml / found.wash_line_ml)
    return needed if found.basis != OWN and needed > found.brim_low_ml else None


def glass_lines(glass: str | None, volume_ml: float, bar: Bar) -> list[str]:
    """That the glass must be a large one of its name, where it must."""
    needed = brim_needed_ml(glass, volume_ml, bar)
    if glass is None or needed is None:
        return []
    kind = bar.glass(glass)
    sizes = f"{kind.brim_low_ml:g} to {kind.brim_high_ml:g}"
    return [
        f"Glass: a {kind.says} of {needed} mL or more to the brim (they are {sizes}); yours is not "
        "in bar.toml."
    ]
