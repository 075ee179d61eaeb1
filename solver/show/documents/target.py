"""How a drink stands to its aims."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from typing import Any

from solver.search.problem import Aim
from solver.show.text.target import off_target


def target_fields(values: Mapping[str, float | None], aims: Iterable[Aim]) -> dict[str, Any]:
    """The same for programs: steps are noticeable differences, below 0 for too little."""
    off = off_target(values, aims)
    return {
        "on_target": not off,
        "off_target": [{"measure": aim.measure.name, "steps": steps} for aim, steps in off],
    }
