"""What a bar mixes and keeps batches in, and which of it fits."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from typing import Final

from solver.errors import BadInput
from solver.files.checked import FileReading
from solver.quantities import Measures, parse

HEADSPACE: Final = 0.05
"""Share of a vessel left empty to mix in: common practice, no source."""


@dataclass(frozen=True)
class Vessel:
    """A vessel of the bar and what it holds to its brim, mL."""

    name: str
    volume_ml: float

    @property
    def room_ml(self) -> float:
        """What is mixed in it at most."""
        return (1.0 - HEADSPACE) * self.volume_ml


def smallest_for(volume_ml: float, vessels: Iterable[Vessel]) -> Vessel | None:
    """The smallest vessel that so much can be mixed in; None where none is large enough."""
    fitting = (each for each in vessels if each.room_ml >= volume_ml)
    return min(fitting, key=lambda each: (each.volume_ml, each.name), default=None)


def read_vessels(
    table: Mapping[str, str], measures: Measures, reading: FileReading
) -> tuple[Vessel, ...]:
    """The table [vessels] of bar.toml; what can't be read is noted in `reading` with its line."""
    return tuple(
        Vessel(name, reading.take(["vessels", name], 1.0, _size, text, measures))
        for name, text in table.items()
    )


def _size(text: str, measures: Measures) -> float:
    volume_ml = parse(text, "volume", measures)
    if volume_ml <= 0:
        raise BadInput("a vessel holds more than nothing", remedy="Write it like 10 L.")
    return volume_ml
