"""How a drink stands to its aims: on target, or by how much it is weaker, sweeter, longer."""

from __future__ import annotations

import math
import re
from collections.abc import Iterable, Mapping

from solver.search.problem import Aim
from solver.show.words.names_in_a_row import listed

LITTLE = 1.5
"""Noticeable differences up to which a drink is a little weaker, say; beyond it is weaker."""
SEEN = 0.05
"""Noticeable differences that are not seen in what is printed."""


def off_target(values: Mapping[str, float | None], aims: Iterable[Aim]) -> list[tuple[Aim, float]]:
    """The aims that a drink misses, each by its noticeable differences: below 0 for too little."""
    found: list[tuple[Aim, float]] = []
    for aim in aims:
        value = values.get(aim.measure.name)
        if value is not None and abs(off := aim.distance(value)) >= SEEN:
            found.append((aim, off))
    return found


def ends(aim: Aim) -> tuple[float | None, float | None]:
    """The ends of an aim's band, None for one that is open."""
    low, high = aim.range
    return low or None, None if high == math.inf else high


def target_line(values: Mapping[str, float | None], aims: Iterable[Aim], *, kept: bool) -> str:
    """A sentence: on target, or what a drink is instead; `kept` says that it keeps its limits."""
    off = off_target(values, aims)
    if not off:
        return "On target."
    said = target_words(values, (aim for aim, _ in off))
    limits = "; within its limits" if kept else ""
    return f"{said[:1].upper()}{said[1:]} than aimed at{limits}."


def target_words(values: Mapping[str, float | None], aims: Iterable[Aim]) -> str:
    """The same in a few words: "on target", "a little weaker (1 step) and longer (2 steps)"."""
    said = [_compared(aim, steps) for aim, steps in off_target(values, aims)]
    return listed(said) or "on target"


def target_briefly(values: Mapping[str, float | None], aims: Iterable[Aim]) -> str:
    """The same among other things: "on target", "0.4 steps weaker, 2 steps longer"."""
    said = [f"{_steps(steps)} {_word(aim, steps)}" for aim, steps in off_target(values, aims)]
    return ", ".join(said) or "on target"


def _compared(aim: Aim, steps: float) -> str:
    little = "a little " if abs(steps) <= LITTLE else ""
    return f"{little}{_word(aim, steps)} ({_steps(steps)})"


def _word(aim: Aim, steps: float) -> str:
    return aim.measure.less if steps < 0 else aim.measure.more


def _steps(steps: float) -> str:
    number = f"{abs(steps):.1f}".removesuffix(".0")
    return f"{number} step{'' if number == '1' else 's'}"


def names_steps(text: str) -> bool:
    """Whether steps are named in a text, so that somebody has to be told what one is."""
    return re.search(r"[0-9] steps?\b", text) is not None
