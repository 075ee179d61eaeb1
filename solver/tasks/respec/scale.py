"""A spec in another glass: all lines scaled by one factor and rounded together."""

from __future__ import annotations

from dataclasses import dataclass

from solver.clock import Clock
from solver.drinks.assess import Assessment, assess
from solver.errors import BadInput
from solver.pantry.bar import Bar
from solver.pantry.defaults import load_defaults
from solver.pantry.spec import Spec
from solver.printable import short
from solver.quantities import parse
from solver.search.milp.backend import Backend
from solver.tasks.respec.bar_changes import read_glass
from solver.tasks.respec.held_ranges import HeldRanges, held_ranges
from solver.tasks.respec.line_changes import LineChange
from solver.tasks.respec.rebalanced import Rebalanced
from solver.tasks.respec.repour import SECONDS, rebalance
from solver.tasks.respec.slots import scaled_slots


@dataclass(frozen=True)
class Scaled:
    """A spec in another glass, or at another volume.

    It is scaled by about `times`. `line_ml` is the wash line of the glass, None if any glass will
    do; `share` how much of the old wash line the drink filled, None if the glasses cannot be
    compared. `measured` is true if the bar knows the volume of the glass; otherwise it is a usual
    one.
    """

    times: float
    glass: str | None
    line_ml: float | None
    share: float | None
    result: Rebalanced
    measured: bool = True


def scale(
    spec: Spec,
    bar: Bar,
    backend: Backend,
    *,
    glass: str | None = None,
    volume: str | None = None,
    clock: Clock | None = None,
) -> Scaled:
    """Scale a spec to another `glass`, like "nick-and-nora" or "coupe=150 ml", or to a `volume`.

    It keeps its present strength, sugar and acid. It fills the same share of the glass as before,
    if the two can be compared; otherwise it only must not go over the wash line. Every line is
    rounded down or up so that the drink stays closest.

    Raises:
        BadInput, BadInputs: the spec, the glass or the volume is wrong.
        Unproven: the time was up.
    """
    made = assess(spec.model_copy(update={"approved": None}), bar)
    now, name = (bar, made.glass) if glass is None else _with_glass(glass, bar)
    line_ml = now.glass(name).wash_line_ml if name else None
    was_ml = made.values["volume"] or 0.0
    share = _share(made, name, bar, now) if glass is not None and name is not None else None
    kept = held_ranges(made, bar)
    if volume is not None:
        wanted_ml = _volume(volume, line_ml, name, bar)
    elif line_ml is None:
        wanted_ml = was_ml
    else:
        wanted_ml = was_ml if share is None else share * line_ml
        # In the middle of what the glass may hold, so that both sides are there to be rounded to.
        wanted_ml = wanted_ml if wanted_ml <= line_ml else line_ml - kept.aims[-1].tolerance
    before = assess(made.spec.model_copy(update={"glass": name}), now)
    kept = kept.at_volume(wanted_ml)
    result = _poured(before, kept, wanted_ml / was_ml, now, backend, clock or Clock.of(SECONDS))
    measured = name is None or now.glass(name) not in load_defaults().glasses.values()
    return Scaled(wanted_ml / was_ml, name, line_ml, share, result, measured)


def _with_glass(text: str, bar: Bar) -> tuple[Bar, str]:
    """The bar with a glass as written, and the name of that glass."""
    if "=" not in text:
        return bar, bar.glass(text).name
    name, line_ml = read_glass(text, bar)
    return bar.with_wash_line(name, line_ml), name


def _share(made: Assessment, name: str, bar: Bar, now: Bar) -> float | None:
    """The share of its wash line that a drink fills.

    None if the two glasses cannot be compared: one of them is not measured, or they take different
    amounts of ice.
    """
    if made.glass is None:
        return None
    old, new, usual = bar.glass(made.glass), now.glass(name), load_defaults().glasses.values()
    if old in usual or new in usual or old.serve != new.serve:
        return None
    return (made.values["volume"] or 0.0) / old.wash_line_ml


def _volume(text: str, line_ml: float | None, glass: str | None, bar: Bar) -> float:
    """The volume that is asked for, in mL.

    Raises:
        BadInput: it can't be read, is nothing, or more than the glass takes.
    """
    asked = parse(text, "volume", bar.measures)
    if asked <= 0:
        raise BadInput(f"a drink of {short(text)} is none", remedy="Write it like '120 ml'.")
    if line_ml is not None and asked > line_ml:
        what = f"{short(text)} is more than the {glass} takes: {line_ml:.0f} mL to its line"
        raise BadInput(what, remedy="Name a larger one with --glass.")
    return asked


def _poured(
    made: Assessment, kept: HeldRanges, times: float, bar: Bar, backend: Backend, clock: Clock
) -> Rebalanced:
    """The drink scaled by a factor."""
    if abs(times - 1) < 1e-9:  # it is as large as it should be
        lines = tuple(LineChange(line, line) for line in made.lines)
        return Rebalanced(made, made, kept, lines, held=True, compared=1)
    slots = scaled_slots(made, kept)
    return rebalance(slots, made, kept, bar, backend, clock, reasons=True)


def saved(found: Scaled, name: str) -> Spec | None:
    """The drink as a spec of its own, without approval or tastings; None if none is within
    range."""
    after = found.result.after
    if after is None or not found.result.held:
        return None
    named = {"name": " ".join(name.split()), "approved": None, "tasted": ()}
    return after.spec.model_copy(update=named)
