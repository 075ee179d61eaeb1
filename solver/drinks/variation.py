"""How a drink varies from one to the next: pours, fruit and melt are never quite as written.

A Monte Carlo study: everything that strays is drawn evenly from its range by a Latin hypercube
(McKay, Beckman and Conover, Technometrics 21, 1979, from memory), and every drawn drink is
evaluated exactly.
"""

from __future__ import annotations

import enum
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

import numpy as np

from solver.drinks.assess import Assessment
from solver.measures import MEASURES, SENSED, Form, Measure
from solver.mixture.drink import finished_volume_ml
from solver.mixture.melt import TECHNIQUES
from solver.pantry.bar import Bar
from solver.pantry.defaults import load_defaults
from solver.pantry.ingredient import Ingredient
from solver.pantry.own_figures import with_own_figures
from solver.pantry.pour import Pour
from solver.requests.request import curve_of
from solver.requests.spread_from_words import SaidSpread
from solver.search.exact_evaluator import from_totals, keeps_limit
from solver.search.problem import Floats

TRIES = 8192
"""Drinks in the sample: the standard error of a share is then about half a percentage point."""
_SEED = 20

_FIGURES = ("abv", "sugar", "acid")
MELT = "melt"
AMOUNT = "amount"


@enum.unique
class Judged(enum.Enum):
    """The criterion for a drawn drink: the first that applies."""

    TARGET = "on target"
    LIMITS = "within the limits"
    NOTICED = "as written"


@dataclass(frozen=True)
class Stray:
    """An input that varies between drinks, uniform on [`low`, `high`].

    `what` is the amount of a line in its ingredient's unit, a figure of its ingredient ("abv" in %
    vol, "sugar" and "acid" in g/100 mL), or the melt as a multiple of the usual; `usual` is its
    nominal value. `line` is None for the melt. `source` is that of the range, "" if it was asked
    for.
    """

    what: str
    line: int | None
    low: float
    usual: float
    high: float
    source: str = ""


@dataclass(frozen=True, eq=False)
class MeasureSpread:
    """A measure over the drawn drinks: nine of ten lie between `low` and `high`.

    `under` and `over` are the shares of drinks below and above the band of the aim; without an aim,
    more than one noticeable difference below and above the drink as written.
    """

    measure: Measure
    usual: float
    low: float
    high: float
    under: float
    over: float


@dataclass(frozen=True)
class Chances:
    """Shares of the drawn drinks, 0..1.

    `on_target` and `within` are None without a profile; `alike` is the share that differs from the
    drink as written by less than is noticed.
    """

    on_target: float | None
    within: float | None
    alike: float

    def of(self, judged: Judged) -> float:
        """The share of drinks that meet a criterion."""
        share = {Judged.TARGET: self.on_target, Judged.LIMITS: self.within}.get(judged, self.alike)
        return self.alike if share is None else share


@dataclass(frozen=True, eq=False)
class Variation:
    """How an assessed drink varies.

    `judged` is the criterion; `steadier` is, for each stray, the share of drinks that would meet it
    if that stray kept its nominal value, largest first.
    """

    assessed: Assessment
    strays: tuple[Stray, ...]
    chances: Chances
    spreads: tuple[MeasureSpread, ...]
    judged: Judged
    steadier: tuple[tuple[Stray, float], ...]


def vary(found: Assessment, bar: Bar, hands: SaidSpread) -> Variation:
    """The variation of a drink by hand, fruit and ice. Deterministic: the seed is fixed."""
    strays = tuple(strays_of(found, bar, hands))
    drawn = _drawn(strays)
    model = _Model(found, bar, strays)
    values = model.values(drawn)
    usual = model.values(_usual(strays)[np.newaxis, :])
    written = {name: float(value[0]) for name, value in usual.items()}
    chances = _chances(found, values, written)
    judged = _judged(found)
    steadier = []
    for at, stray in enumerate(strays):
        held = drawn.copy()
        held[:, at] = stray.usual
        steadier.append((stray, _chances(found, model.values(held), written).of(judged)))
    return Variation(
        assessed=found,
        strays=strays,
        chances=chances,
        spreads=tuple(_spreads(found, values, written)),
        judged=judged,
        steadier=tuple(sorted(steadier, key=lambda each: -each[1])),
    )


def strays_of(found: Assessment, bar: Bar, hands: SaidSpread) -> list[Stray]:
    """The inputs of a drink that vary; those without a known range are left out."""
    strays: list[Stray] = []
    for at, line in enumerate(found.lines):
        strays.append(_amount(at, line, hands))
        strays += [
            stray for name in _FIGURES if (stray := _figure(at, line, name, bar, hands)) is not None
        ]
    technique = TECHNIQUES[found.technique]
    low, high = hands.melt or (technique.spread_low, technique.spread_high)
    source = "" if hands.melt else technique.source
    if float(found.drink.melt_ml) > 0:
        strays.append(Stray(MELT, None, low, 1.0, high, source))
    return [stray for stray in strays if stray.low < stray.high]


def _amount(at: int, line: Pour, hands: SaidSpread) -> Stray:
    """The range of a line's amount, by the tool that measures it."""
    tool = line.tool or line.ingredient.tool
    if tool == "jigger" and hands.jigger_ml is not None and not line.top:
        off, source = hands.jigger_ml, ""
    else:
        error = load_defaults().hand_errors["top" if line.top and tool == "jigger" else tool]
        off, source = error.of(line.amount), error.source
    low = max(0.0, line.amount - off)
    return Stray(AMOUNT, at, low, line.amount, line.amount + off, source)


def _figure(at: int, line: Pour, name: str, bar: Bar, hands: SaidSpread) -> Stray | None:
    """The range of a figure of an ingredient; None for one with a label."""
    item, figure = line.ingredient, getattr(line.ingredient, name)
    if (item.key, name) in hands.figures:
        low, high = hands.figures[item.key, name]
        return Stray(name, at, low, figure.value, high)
    fresh = any(map(item.is_kind, load_defaults().fresh.kinds)) or item.key in bar.uncooked
    if not fresh or figure.low is None or figure.high is None:
        return None
    return Stray(name, at, figure.low, figure.value, figure.high, figure.source)


def _usual(strays: Sequence[Stray]) -> Floats:
    return np.array([stray.usual for stray in strays])


def _drawn(strays: Sequence[Stray]) -> Floats:
    """A Latin hypercube sample of all strays, shape (tries, strays)."""
    rng = np.random.default_rng(_SEED)
    cells = np.tile(np.arange(TRIES, dtype=float)[:, np.newaxis], (1, len(strays)))
    shares = (rng.permuted(cells, axis=0) + 0.5) / TRIES
    low, high = (np.array([getattr(stray, end) for stray in strays]) for end in ("low", "high"))
    drawn: Floats = low + shares * (high - low)
    return drawn


class _Model:
    """Evaluates an assessed drink at strays of shape (n, strays)."""

    def __init__(self, found: Assessment, bar: Bar, strays: Sequence[Stray]) -> None:
        self._strays = tuple(strays)
        self._amounts = np.array([line.amount for line in found.lines])
        self._first = np.array([not line.top for line in found.lines])
        self._compositions = np.array([line.ingredient.composition() for line in found.lines])
        self._costs = np.array(
            [np.nan if line.cost is None else line.cost / line.amount for line in found.lines]
        )
        self._curve = curve_of(found.technique, bar)
        self._ends = [
            None
            if stray.line is None or stray.what == AMOUNT
            else (stray.line, *_ends(stray, found.lines[stray.line].ingredient))
            for stray in strays
        ]

    def values(self, drawn: Floats) -> dict[str, Floats]:
        """Every measure in the glass by its name, each of shape (n,)."""
        amounts = np.tile(self._amounts, (len(drawn), 1))
        melt = np.ones(len(drawn))
        for stray, column in zip(self._strays, drawn.T, strict=True):
            if stray.what == AMOUNT:
                amounts[:, stray.line] = column
            elif stray.what == MELT:
                melt = column
        poured = amounts[:, :, np.newaxis] * self._compositions
        for stray, column, ends in zip(self._strays, drawn.T, self._ends, strict=True):
            if ends is not None:
                at, low, high = ends
                poured[:, at] += amounts[:, [at]] * _between(stray, column, low, high)
        first, top = poured[:, self._first].sum(axis=1), poured[:, ~self._first].sum(axis=1)
        volume = finished_volume_ml(first, top, self._curve, melt)
        total = first + top
        found = {"volume": volume, "cost": amounts @ self._costs}
        for each in MEASURES.values():
            if each.form in (Form.CONCENTRATION, Form.TOTAL):
                found[each.name] = from_totals(each, total, volume)
        return found


def _ends(stray: Stray, item: Ingredient) -> tuple[Floats, Floats]:
    """The change of an ingredient's composition at the low and the high end of a figure."""
    usual = with_own_figures(item, {stray.what: stray.usual}).composition()
    low, high = (
        with_own_figures(item, {stray.what: end}).composition() - usual
        for end in (stray.low, stray.high)
    )
    return low, high


def _between(stray: Stray, values: Floats, low: Floats, high: Floats) -> Floats:
    """The change of composition at values of a figure, piecewise linear around the usual value.

    The composition depends on the label through a density that is nearly linear: the error against
    reading each label anew is below a thousandth of a noticeable difference
    (`tests/drinks/test_variation.py`).
    """
    below = np.clip((stray.usual - values) / max(stray.usual - stray.low, 1e-12), 0.0, 1.0)
    above = np.clip((values - stray.usual) / max(stray.high - stray.usual, 1e-12), 0.0, 1.0)
    return below[:, np.newaxis] * low + above[:, np.newaxis] * high


def _judged(found: Assessment) -> Judged:
    """The criterion: the target only if the drink as written meets it."""
    if found.aims and all(not met.distance for met in found.aims):
        return Judged.TARGET
    kept = all(met.kept is not False for met in found.limits)
    return Judged.LIMITS if found.profile and found.limits and kept else Judged.NOTICED


def _chances(
    found: Assessment, values: Mapping[str, Floats], written: Mapping[str, float]
) -> Chances:
    size = len(values["volume"])
    kept, on_target, alike = (np.ones(size, dtype=bool) for _ in range(3))
    for met in found.limits:
        if met.limit.measure.name in values and met.kept is not None:
            kept &= keeps_limit(met.limit, values[met.limit.measure.name])
    for aimed in found.aims:
        if aimed.value is not None:
            on_target &= aimed.aim.off(values[aimed.aim.measure.name]) == 0
    for measure in SENSED:
        usual = written[measure.name]
        alike &= np.abs(values[measure.name] - usual) <= measure.tolerance(usual)
    judged = found.profile is not None
    return Chances(
        on_target=float((on_target & kept).mean()) if judged and found.aims else None,
        within=float(kept.mean()) if judged and found.limits else None,
        alike=float(alike.mean()),
    )


def _spreads(
    found: Assessment, values: Mapping[str, Floats], written: Mapping[str, float]
) -> list[MeasureSpread]:
    aims = {met.aim.measure.name: met.aim for met in found.aims}
    spreads = []
    for measure in SENSED:
        drawn, usual = values[measure.name], written[measure.name]
        step = measure.tolerance(usual)
        aim = aims.get(measure.name)
        least, most = (usual - step, usual + step) if aim is None else aim.range
        low, high = (float(end) for end in np.quantile(drawn, (0.05, 0.95)))
        under, over = float((drawn < least).mean()), float((drawn > most).mean())
        spreads.append(MeasureSpread(measure, usual, low, high, under, over))
    return spreads
