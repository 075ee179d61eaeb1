"""A batch: what people read."""

from __future__ import annotations

import math
from collections.abc import Iterator

from solver.measures import MEASURES
from solver.mixture.freezing import ERROR_CELSIUS, Chilled
from solver.mixture.keeping import AW_ACID_RULES, DELLE_STABLE
from solver.mixture.melt import TECHNIQUES
from solver.pantry.bar import Bar
from solver.pantry.missing_prices import unpriced_names
from solver.quantities import (
    show_count,
    show_large,
    show_money,
    show_number,
    show_temperature,
    show_volume,
)
from solver.show.text.batch_words import (
    WHY,
    bottle_drinks,
    bottle_ml,
    finish_words,
    garnish_text,
    liquid_celsius,
    said_serve,
    said_serves,
)
from solver.show.text.design import after_a_gap
from solver.show.text.guest import day_line, guest_lines, told_words
from solver.show.text.pours import said_amount
from solver.show.text.prep import keeping_lines, short_keeping_lines
from solver.show.text.produced import produced_lines
from solver.show.text.uncertain import SOME_ALCOHOL_PCT, uncertain_lines
from solver.show.words.names_in_a_row import listed
from solver.tasks.batch import Batch, Finish
from solver.tasks.batch.batch_shelf_life import BatchLife
from solver.tasks.batch.left_out import LeftOut
from solver.tasks.batch.measured_amounts import MeasuredAmount
from solver.tasks.prep.shelf_life import TRADE_ABV
from solver.tasks.stock.made_batch import Produced

PRACTICE = "What waits, the order and the empty room are common practice, no source."
CONTRACTION_FROM_PCT = 1.0
THICK_CELSIUS = -10.0
"""Below this a strong or sweet drink pours noticeably thicker: common practice, no source."""
FREEZER_WATER_PCT = 25.0
_VALUES = ("abv", "sugar", "acid")


def batch_text(
    batch: Batch, bar: Bar, stocked: Produced | None = None, *, everything: bool = False
) -> str:
    """What goes into the bottle, what is added to each serve, how cold, how long it keeps.

    With `everything`, how that is known.
    """
    lines = [_heading(batch, bar), *_alone(batch), "", "Pour in this order:"]
    lines += [
        *_pours(batch, bar),
        *_vessels(batch, bar),
        "",
        *_serving(batch, bar),
        "",
        *_values(batch),
        "",
    ]
    if batch.cold is not None:
        lines += [*_cold(batch, batch.cold, bar), ""]
    if batch.finish is not Finish.NEVER:
        lines += uncertain_lines(batch.found.uncertain)
    lines += [
        *_keeping(batch, everything=everything),
        "",
        *guest_lines(batch.found.guest, _drinks(batch)),
    ]
    lines += _in_bottle(batch)
    lines += [*_cost(batch, bar), PRACTICE]
    if stocked is not None:
        lines += ["", *_stocked(batch, stocked, bar)]
    return "\n".join([*lines, *after_a_gap(day_line(bar))])


def _heading(batch: Batch, bar: Bar) -> str:
    size = _large(batch.volume_ml, bar)
    return f"{batch.found.spec.name}, {said_serves(batch)} in the bottle: {size}"


def _large(ml: float, bar: Bar) -> str:
    """A volume of a kitchen, in quarts and gallons too where the bar measures in ounces."""
    metric, other = show_large(ml, "ml"), show_large(ml, bar.show)
    return metric if other.endswith(("L", "mL")) else f"{metric} ({other})"


def _alone(batch: Batch) -> Iterator[str]:
    if len(batch.lines) == 1 and not batch.water.ml:
        name = batch.lines[0].line.ingredient.name
        yield f"Only the {name} can wait, and it does so in its own bottle: there is little to mix."


def _pours(batch: Batch, bar: Bar) -> list[str]:
    """What is dry is dissolved in the water; without it the water comes last, and rinses."""
    dry = [_pour(each, bar) for each in batch.lines if each.line.ingredient.per == "g"]
    wet = [_pour(each, bar) for each in batch.lines if each.line.ingredient.per != "g"]
    water = [*_water(batch)]
    if not dry:
        return [*wet, *water]
    poured = [*dry, *water, *wet] if batch.water.ml else [*dry, *wet, *water]
    return [*poured, "Stir until what is dry is gone."]


def _pour(each: MeasuredAmount, bar: Bar) -> str:
    """An amount, what the bar's jiggers call it, and the whole bottles in it."""
    line, item = each.line, each.line.ingredient
    notes = []
    if each.unit == "mL" and bar.show == "oz":
        said = show_volume(each.units, "oz", bar.measures)
        notes += [] if said.endswith("mL") else [said]
    if each.bottles:
        rest = f" and {show_number(each.rest)} {item.unit}" if each.rest >= 0.05 else ""
        notes.append(f"{show_count(each.bottles, 'bottle')}{rest}")
    if item.tool in {"dash", "spoon", "drop"}:
        notes.append(f"{said_amount(line, bar)} a serve")
    after = f" ({'; '.join(notes)})" if notes else ""
    return f"  {_measured(each.amount):>7} {each.unit:<2}  {item.name}{after}"


def _measured(amount: float) -> str:
    """An amount with as many places as it needs: a single drop is 0.05 mL."""
    return show_number(amount, 1 if amount >= 0.1 else 3)


def _water(batch: Batch) -> Iterator[str]:
    melt = TECHNIQUES[batch.found.technique]
    if not batch.water.ml and batch.water.asked:
        yield (
            f"No water, as asked: ice would melt {float(batch.found.drink.melt_ml):.0f} mL into "
            "each serve."
        )
        return
    if not batch.water.ml:
        if not float(batch.found.drink.melt_ml):
            yield "No water: no ice melts into such a drink."
            return
        yield (f"No water: each serve is {melt.says}, which melts {batch.ice_ml:.0f} mL into it.")
        return
    water = batch.water
    amount = f"  {_measured(water.amount):>7} {batch.step.unit:<2}  water"
    share = f"{batch.water_pct:.0f} % of the bottle"
    if water.asked:
        melt_ml = float(batch.found.drink.melt_ml) * batch.serves
        yield f"{amount} ({share}, as asked; ice would melt {melt_ml:.0f} mL into it)"
        return
    of = "half of what ice" if batch.finish is Finish.BRIEFLY else "what ice"
    if water.least_ml is not None and water.most_ml is not None:
        known = f", {water.least_ml:.0f} to {water.most_ml:.0f} mL in practice"
    else:
        known = ", by this bar's own melt"
    yield f"{amount} ({of} would melt into it{known}; {share})"


def _vessels(batch: Batch, bar: Bar) -> Iterator[str]:
    vessels = batch.vessels
    size = None if vessels.size_ml is None else _large(vessels.size_ml, bar)
    mix = _mixed_in(batch, bar)
    if size is None:
        yield f"{mix}."
    elif vessels.keg:
        yield f"It fills a keg of {size} to {vessels.last_ml / (vessels.size_ml or 1):.0%}."
    elif vessels.count == 1:
        yield f"{mix}. One bottle of {size}, with {vessels.last_ml:.0f} mL in it."
    else:
        room = vessels.room_ml or 0.0
        full = abs(vessels.last_ml - room) < 0.02 * room
        last = "" if full else f", the last with {vessels.last_ml:.0f} mL"
        if vessels.filled < 1:
            last = f", {room:.0f} mL in each{last}"
        serves = bottle_ml(batch) / batch.serve_ml
        each = f"{show_number(math.floor(10 * serves + 1e-6) / 10)} serves to a full one"
        yield f"{mix}. {vessels.count} bottles of {size}{last}; {each}."
    if batch.contraction_pct >= CONTRACTION_FROM_PCT:
        yield (
            f"Mixed it takes {batch.contraction_pct:.1f} % less room than what is poured: alcohol "
            "and water contract."
        )


def _mixed_in(batch: Batch, bar: Bar) -> str:
    """What to mix it in: a vessel that the bar names, else how large one has to be."""
    own = batch.vessels.mix_in
    if own is not None:
        left = own.volume_ml - batch.volume_ml
        return f"Mix it in the {own.name}, {_large(own.volume_ml, bar)}: {left:.0f} mL stay empty"
    mix = f"Mix it in {_large(math.ceil(batch.vessels.mix_in_ml / 100) * 100, bar)} or more"
    if not bar.vessels:
        return mix
    largest = max(bar.vessels, key=lambda each: each.volume_ml)
    size = _large(largest.volume_ml, bar)
    return f"{mix}: the largest vessel here, the {largest.name}, holds {size}"


def _serving(batch: Batch, bar: Bar) -> list[str]:
    lines = [f"For each serve {said_serve(batch, bar)} of it{_with_what(batch)}"]
    lines += [f"  {_added(left, batch, bar)}" for left in batch.left_out]
    lines += [finish_words(batch)]
    garnish = garnish_text(batch)
    return [*lines, f"Garnish: {garnish}."] if garnish else lines


def _with_what(batch: Batch) -> str:
    return ", and to each:" if batch.left_out else "."


def _added(left: LeftOut, batch: Batch, bar: Bar) -> str:
    line, item = left.line, left.line.ingredient
    total = line.amount * batch.serves
    every = show_large(total, "ml") if item.per == "ml" else f"{show_number(total)} g"
    if item.tool == "piece" and item.piece_ml:
        every = f"{math.ceil(total / item.piece_ml - 0.01)} pieces"
    return f"{said_amount(line, bar):>9}  {item.name}: {WHY[left.why]} ({every} for all)"


def _values(batch: Batch) -> list[str]:
    lines = [f"  {'':<9}{'in the bottle':>14}{'in the glass':>14}"]
    bottle, glass = batch.bottle, batch.glass
    for name in _VALUES:
        measure = MEASURES[name]
        inside, served = (float(getattr(each, measure.key)) for each in (bottle, glass))
        lines.append(
            f"  {measure.label:<9}{inside:>14.{measure.decimals}f}"
            f"{served:>14.{measure.decimals}f} {measure.unit}"
        )
    lines.append(f"  {'volume':<9}{batch.volume_ml:>14.0f}{float(glass.volume_ml):>14.0f} mL")
    return lines


def _cold(batch: Batch, cold: Chilled, bar: Bar) -> Iterator[str]:
    at, onset = cold.celsius, cold.onset_celsius
    said = show_temperature(at, fahrenheit=bar.fahrenheit)
    starts = show_temperature(onset, fahrenheit=bar.fahrenheit, within=ERROR_CELSIUS)
    begins = f"ice begins to form in it at about {starts}"
    if at >= 0:
        pass
    elif at > onset + ERROR_CELSIUS:
        yield f"At {said} it stays liquid: {begins}."
    else:
        share = f"{100 * cold.ice_share:.0f} % of it"
        some = "it may begin to freeze" if at > onset - ERROR_CELSIUS else f"some {share} is ice"
        warmer = liquid_celsius(cold)
        kept = "" if warmer is None else show_temperature(warmer, fahrenheit=bar.fahrenheit)
        advice = f"keep it at {kept}" if kept else "keep it in the fridge"
        yield f"At {said} {some}: {begins}. Better {advice}."
        sized = batch.vessels.size_ml is not None
        empty = "a tenth of every bottle stays" if sized else "leave a tenth of every bottle"
        yield f"Ice takes more room than water: {empty} empty."
    serve, warm = round(batch.cold_serve_ml or 0.0), round(batch.serve_ml)
    room = show_temperature(20.0, fahrenheit=bar.fahrenheit)
    less = f"{serve} mL, and {warm} mL at {room}" if serve != warm else f"{warm} mL, as at {room}"
    yield f"At {said} a serve takes {less}."
    if at <= THICK_CELSIUS:
        yield "So cold it pours thicker, and more slowly (common practice, no source)."
        if batch.water_pct > FREEZER_WATER_PCT:
            yield (
                "From the freezer 20 to 25 % of water is usual (common practice, no source): it "
                "comes colder, may be stronger, and freezes later. Ask with --water 22%."
            )


def _keeping(batch: Batch, *, everything: bool) -> list[str]:
    kept = batch.kept
    told = keeping_lines if everything else short_keeping_lines
    first, *rest = told(kept.keeping, kept.use_by)
    side = "above" if kept.stops_yeast else "below"
    threshold = f"{kept.delle:.0f} Delle units, {side} the {DELLE_STABLE:.0f} that stop yeast"
    # With alcohol the activity is known at the freezing point alone, where it is lower than warm.
    if float(batch.bottle.abv_pct) < SOME_ALCOHOL_PCT:
        dry = "at or below" if kept.activity <= AW_ACID_RULES else "above"
        threshold += (
            f"; water activity {kept.activity:.2f}, {dry} the {AW_ACID_RULES:g} of 21 CFR 114.3"
        )
    threshold += "."
    shortest = _shortest(kept)
    said = everything and float(batch.bottle.abv_pct) < TRADE_ABV  # in many words, below
    return [first, *shortest, *rest] if said else [first, *shortest, threshold, *rest]


def _shortest(kept: BatchLife) -> Iterator[str]:
    """What in it would keep less long by itself."""
    if kept.shortest is not None:
        name, by = kept.shortest.item.name, kept.shortest.life.ends(kept.made)
        yield (
            f"The {name} alone would keep to {by.isoformat()}: that alcohol keeps it longer is "
            "common practice, no source."
        )


def _in_bottle(batch: Batch) -> Iterator[str]:
    inside, whole = told_words(batch.told), told_words(batch.found.guest.told)
    if inside != whole:
        yield f"In the bottle itself: {'; '.join(inside) or 'none of these stated'}."


def _drinks(batch: Batch) -> str:
    vessels = batch.vessels
    kind = "keg" if vessels.keg else f"bottle of {show_large(bottle_ml(batch), 'ml')}"
    where = f"in a {kind}" if vessels.size_ml is not None else "in all of the batch"
    return f"{batch.found.guest.standard_drinks:.1f} a serve, {bottle_drinks(batch):.1f} {where}"


def _cost(batch: Batch, bar: Bar) -> Iterator[str]:
    if batch.cost is None:
        keys = [each.line.ingredient.key for each in batch.lines if each.line.cost is None]
        yield f"Cost not known: no price for {listed(unpriced_names(bar, *keys))}."
        return
    each = batch.found.values["cost"]
    serve = "" if each is None else f", {each:.2f} for a serve with all that is added"
    yield f"Cost: {show_money(batch.cost, bar.currency)} in the bottle{serve}."


def _stocked(batch: Batch, ready: Produced, bar: Bar) -> Iterator[str]:
    yield from produced_lines(ready)
    yield f"Look at a serve: `{_assessed(batch, bar)}`."


def _assessed(batch: Batch, bar: Bar) -> str:
    """The command that tells what a serve of what is on the shelf is in the glass."""
    words = [f'"{batch.serve_ml:.0f} ml {batch.key}"']
    words += [_typed(left, bar) for left in batch.left_out if not left.line.top]
    words += [f"--top {_typed(left, bar)}" for left in batch.left_out if left.line.top]
    technique = batch.found.technique if batch.finish is Finish.AGAIN else "none"
    return f"equipour assess {' '.join(words)} --technique {technique}"


def _typed(left: LeftOut, bar: Bar) -> str:
    return f'"{said_amount(left.line, bar)} {left.line.ingredient.key}"'
