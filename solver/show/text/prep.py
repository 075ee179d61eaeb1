"""A house ingredient, prepared: what people read."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from datetime import date

from solver.drinks.approval import NOTICED
from solver.pantry.bar import Bar
from solver.quantities import show_temperature
from solver.show.text.guest import DEFERS, told_lines
from solver.show.text.pours import said_volume
from solver.show.text.produced import produced_lines
from solver.show.words.names_in_a_row import listed
from solver.tasks.prep.batch_figures import Estimate
from solver.tasks.prep.contradictions import said_amount, said_reading
from solver.tasks.prep.impact_on_specs import SpecImpact, ValueChange
from solver.tasks.prep.prepare import Prep, StepLoss
from solver.tasks.prep.scale_batch import ScaledRecipe
from solver.tasks.prep.shelf_life import Keeping
from solver.tasks.stock.made_batch import Produced

_ROWS = (
    ("weight", "mass_g", "g", 0),
    ("volume", "volume_ml", "mL", 0),
    ("density", "density_g_ml", "g/mL", 3),
    ("Brix", "brix", "", 1),
    ("sugar", "sugar_g_100ml", "g/100 mL", 1),
    ("acid", "acid_g_100ml", "g/100 mL", 2),
    ("strength", "abv_pct", "% vol", 1),
)
POUR_OZ = 0.75
"""The pour that a cost is said for: what goes into a sour."""


def prep_text(
    prep: Prep,
    bar: Bar,
    impacts: Sequence[SpecImpact] = (),
    batch: ScaledRecipe | None = None,
    stocked: Produced | None = None,
    *,
    everything: bool = False,
) -> str:
    """Yield, strength, cost, life and what a guest must know.

    With `everything` also what went in, how well each figure is known, what was lost on the way,
    and why it keeps as long as it does.
    """
    lines = [f"{prep.recipe.dish.name}, made {prep.made.isoformat()}", ""]
    lines += _whole(prep, bar) if everything else _short(prep, bar)
    if impacts:
        lines += ["", *(_carried(impacts) if everything else _moved(impacts))]
    if batch is not None:
        lines += ["", *_making(prep, batch)]
    if stocked is not None:
        lines += ["", *_stocked(prep, stocked)]
    return "\n".join(lines)


def _short(prep: Prep, bar: Bar) -> list[str]:
    known = "" if prep.measured else "Expected, nothing measured: "
    return [
        f"{known}{_strength(prep)}.",
        *(f"{line[:1].upper()}{line[1:]}." for line in _on_one_line(_cost(prep, bar))),
        *(f"{each[:1].upper()}{each[1:]}." for each in prep.assumed),
        *short_keeping_lines(prep.keeping, prep.use_by),
        "",
        *_guest(prep),
    ]


def _on_one_line(lines: Iterable[str]) -> Iterator[str]:
    return (" ".join(line.split()) for line in lines)


def _strength(prep: Prep) -> str:
    """How much there is of it, and what it is: "3309 ± 10 mL of 50.3 ± 0.3 Brix"."""
    rows = {label: (name, unit, digits) for label, name, unit, digits in _ROWS}
    alcohol = prep.figures.abv_pct.value > 0
    told = ("strength", "sugar") if alcohol else ("Brix", "sugar", "acid")
    said = [_known(prep, *rows[label], label) for label in told]
    return f"{_known(prep, *rows['volume'])} of {listed(each for each in said if each)}"


def _known(prep: Prep, name: str, unit: str, digits: int, label: str = "") -> str:
    """A figure with how well it is known; "" if there is none of it."""
    known: Estimate = getattr(prep.figures, name)
    if label in ("strength", "sugar", "acid") and known.value < 0.005:
        return ""
    value = f"{known.value:.{digits}f} ± {known.within:.{digits}f}"
    return f"{value} {unit or label} {label if unit and label else ''}".rstrip()


def _whole(prep: Prep, bar: Bar) -> list[str]:
    lines = input_lines(prep)
    lines += [f"  {line}" for line in prep.assumed]
    lines += [
        "",
        "In the bottle:" if prep.measured else "Expected in the bottle, nothing measured:",
    ]
    lines += list(_figures(prep))
    lines += [f"  {line}" for line in _cost(prep, bar)]
    lines += ["  (± is two standard deviations: nineteen times in twenty it lies within.)", ""]
    lines += _losses(prep, bar)
    lines += _agreement(prep)
    return [*lines, "", *keeping_lines(prep.keeping, prep.use_by), "", *_guest(prep)]


def input_lines(prep: Prep) -> list[str]:
    """What goes in, weighed, a line each."""
    return [f"  {_grams(put.grams):>9}  {_put(put.name, put.written)}" for put in prep.puts]


def _grams(grams: float) -> str:
    return f"{grams:.{1 if grams < 10 else 0}f} g"


def _put(name: str, written: str) -> str:
    weighed = written.replace(" ", "").endswith("g")
    return name if weighed else f"{name} ({written})"


def _figures(prep: Prep) -> Iterator[str]:
    for label, name, unit, digits in _ROWS:
        known: Estimate = getattr(prep.figures, name)
        alcohol = prep.figures.abv_pct.value > 0
        none = name in ("abv_pct", "acid_g_100ml", "sugar_g_100ml") and known.value < 0.005
        if none or (name == "brix" and alcohol):
            continue
        value = f"{known.value:.{digits}f} ± {known.within:.{digits}f} {unit}".rstrip()
        yield f"  {label:<9} {value}"


def _cost(prep: Prep, bar: Bar) -> Iterator[str]:
    if prep.cost is None:
        yield f"{'cost':<9} not known: no price for {', '.join(dict.fromkeys(prep.unpriced))}"
        return
    per_ml = prep.cost / prep.figures.volume_ml.value
    pour_ml = POUR_OZ * bar.measures.ounce_ml
    within = per_ml * pour_ml * prep.figures.volume_ml.within / prep.figures.volume_ml.value
    known = f" ± {within:.3f}" if within >= 0.0005 else ""
    yield (
        f"{'cost':<9} {prep.cost:.2f} {bar.currency} the batch, {per_ml * 1000:.2f} the litre, "
        f"{per_ml * pour_ml:.3f}{known} the {said_volume(pour_ml, bar)}"
    )


def _losses(prep: Prep, bar: Bar) -> list[str]:
    lines = [f"{lost.step}: {_lost(lost, bar)}{_source(lost, prep)}." for lost in prep.losses]
    return [*lines, *_without(prep)]


def _without(prep: Prep) -> Iterator[str]:
    """What the losses did to the Brix, where they did anything that could be read."""
    own = prep.figures.brix.value
    if prep.figures.abv_pct.value > 0:
        return
    lost = (("the steam", prep.brix_unboiled), ("what stayed behind", prep.brix_unstrained))
    for words, brix in lost:
        if abs(brix - own) >= 0.05:
            yield f"Without {words} it would have {brix:.1f} Brix."


def _lost(lost: StepLoss, bar: Bar) -> str:
    amount = f"{lost.grams.value:.0f} ± {lost.grams.within:.0f} g"
    if lost.step == "simmer":
        boils = lost.boils_celsius
        heat = ""
        if boils is not None:
            said = show_temperature(boils, fahrenheit=bar.fahrenheit)
            heat = f", and the pan boils at {said} at sea level then"
        return f"{amount} went off as steam{heat}"
    solids = f", {lost.solids_g:.0f} g of it dry matter" if lost.solids_g >= 1 else ""
    return f"{amount} stayed behind{solids}"


def _source(lost: StepLoss, prep: Prep) -> str:
    if lost.weighed:
        return " (weighed)"
    usual = f"{lost.usual.value:.0f} ± {lost.usual.within:.0f} g"
    if not prep.measured:
        return " (as usual: common practice, no source)"
    return f" (inferred; {usual} would be usual)"


def _agreement(prep: Prep) -> list[str]:
    if not prep.checked:
        return ["Weigh what comes out, and its volume or Brix: the range becomes a figure."]
    said = ", ".join(
        f"{said_reading(c.reading)} (best fit {said_amount(c.reading.kind, c.fitted)})"
        for c in prep.checked
    )
    agree = "They do not contradict each other." if len(prep.checked) > 1 else ""
    return [f"Measured: {said}. {agree}".rstrip()]


def short_keeping_lines(keeping: Keeping, use_by: date) -> list[str]:
    """How long something is planned to keep, in few words, and the hazards."""
    life = keeping.life
    return [
        f"Plan to use it by {use_by.isoformat()}, {life.days} days: {life.why}.",
        *keeping.hazards,
    ]


def keeping_lines(keeping: Keeping, use_by: date) -> list[str]:
    """How long something is planned to keep and why, and the hazards."""
    life = keeping.life
    days = f"{life.days} days after the day it is made"
    return [
        f"Plan to use it by {use_by.isoformat()}, {days}: {life.why} ({life.source}).",
        *keeping.says,
        *keeping.hazards,
    ]


def _guest(prep: Prep) -> list[str]:
    told = prep.told
    cautions = [f"Caution: {caution}" for caution in (*told.cautions, *told.kitchen_cautions)]
    return [*told_lines(told, "Allergens, with all that goes in"), *cautions, DEFERS]


def _carried(impacts: Sequence[SpecImpact]) -> list[str]:
    lines = ["Poured in these drinks, with the figures of its file and with this batch:"]
    lines += [f"  {drink.spec}: {changes_said(drink.changes)}" for drink in impacts]
    return [*lines, *_moved(impacts)]


def _moved(impacts: Sequence[SpecImpact]) -> list[str]:
    lines: list[str] = []
    moved = [drink for drink in impacts if drink.most >= NOTICED]
    if not moved:
        named = listed(drink.spec for drink in impacts)
        return [f"Poured in {named}: nobody would notice the difference."]
    named = ", ".join(f"{drink.spec} ({drink.most:.1f})" for drink in moved)
    lines.append(f"Noticeable differences of the largest change: {named}.")
    return [*lines, f"Look again with `equipour assess {moved[0].file}` once it is in stock."]


def changes_said(changes: Sequence[ValueChange]) -> str:
    """What changes in a drink: "strength 16.6 % vol, sugar 8.7 to 9.1 g/100 mL"."""
    return ", ".join(map(_change, changes))


def _change(change: ValueChange) -> str:
    measure, digits = change.measure, change.measure.decimals
    before, now = f"{change.before:.{digits}f}", f"{change.now:.{digits}f}"
    value = now if before == now else f"{before} to {now}"
    return f"{measure.label} {value} {measure.unit}".rstrip()


def _making(prep: Prep, batch: ScaledRecipe) -> list[str]:
    lines = [f"For {batch.asked} weigh out:"]
    pairs = zip(batch.grams, prep.puts, strict=True)
    lines += [f"  {_grams(grams):>9}  {put.name}" for grams, put in pairs]
    return [*lines, f"That makes {batch.volume_ml:.0f} mL if it loses in proportion as before."]


def _stocked(prep: Prep, stocked: Produced) -> list[str]:
    lines = list(produced_lines(stocked))
    if not prep.measured:
        number = stocked.movement.entry.number
        lines.append(
            f"Nothing was measured: weigh what comes out, undo entry {number}, and stock it again."
        )
    return lines
