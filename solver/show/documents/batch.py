"""A batch: what programs read."""

from __future__ import annotations

from typing import Any

from solver.mixture.blend import Finished
from solver.mixture.freezing import ERROR_CELSIUS
from solver.pantry.bar import Bar
from solver.show.documents.contract import document
from solver.show.documents.drink import measured_fields
from solver.show.documents.guest import guest_fields, told_fields
from solver.show.documents.prep import keeping_fields
from solver.show.documents.produced import produced_fields
from solver.show.documents.uncertain import uncertain_fields
from solver.show.text.batch_words import WHY, bottle_drinks, bottle_ml, finish_words
from solver.show.text.pours import said_amount
from solver.tasks.batch import Batch
from solver.tasks.batch.batch_shelf_life import BatchLife
from solver.tasks.stock.made_batch import Produced


def batch_json(batch: Batch, bar: Bar, stocked: Produced | None = None) -> str:
    """The document of a batch, format 1."""
    return document("batch", batch_fields(batch, bar, stocked))


def batch_fields(batch: Batch, bar: Bar, stocked: Produced | None = None) -> dict[str, Any]:
    """The fields of that document."""
    return {
        "status": "batched",
        "name": batch.found.spec.name,
        "ingredient": batch.key,
        "made": batch.made.isoformat(),
        "serves": batch.serves,
        "technique": batch.found.technique,
        **_poured(batch, bar),
        **_finished(batch),
        "uncertain": uncertain_fields(batch.found.uncertain),
        "cold": _cold(batch),
        **_kept(batch, bar),
        "stocked": None if stocked is None else produced_fields(stocked),
    }


def _poured(batch: Batch, bar: Bar) -> dict[str, Any]:
    water = batch.water
    return {
        "pours": [
            {
                "ingredient": each.line.ingredient.key,
                "g" if each.unit == "g" else "ml": each.amount,
                "whole_bottles": each.bottles,
                f"beside_them_{each.line.ingredient.per}": each.rest,
                "each_serve": said_amount(each.line, bar),
            }
            for each in batch.lines
        ],
        "water": {
            "ml": water.ml,
            "least_ml": water.least_ml,
            "most_ml": water.most_ml,
            "of_the_bottle_pct": batch.water_pct,
            "asked": water.asked,
        },
        "left_out": [
            {
                "ingredient": left.line.ingredient.key,
                "each_serve": said_amount(left.line, bar),
                f"each_serve_{left.line.ingredient.per}": left.line.amount,
                "why": left.why.value,
                "says": WHY[left.why],
                "stage": "top" if left.line.top else "first",
            }
            for left in batch.left_out
        ],
        "on_ice": batch.finish.value,
        "ice_melt_each_serve_ml": batch.ice_ml,
        "finish": finish_words(batch),
        "garnish": batch.found.spec.garnish,
    }


def _finished(batch: Batch) -> dict[str, Any]:
    vessels = batch.vessels
    return {
        "bottle": _measured(batch.bottle),
        "glass": _measured(batch.glass),
        "each_serve_ml": batch.serve_ml,
        "poured_ml": batch.poured_ml,
        "contraction_pct": batch.contraction_pct,
        "vessels": {
            "size_ml": vessels.size_ml,
            "count": vessels.count,
            "last_ml": vessels.last_ml,
            "mix_in_ml": vessels.mix_in_ml,
            "mix_in": vessels.mix_in.name if vessels.mix_in else None,
            "keg": vessels.keg,
        },
    }


def _measured(finished: Finished) -> dict[str, float]:
    return {
        **measured_fields(finished),
        "ethanol_g": float(finished.ethanol_g),
        "density_g_ml": float(finished.density_g_ml),
    }


def _cold(batch: Batch) -> dict[str, float | None] | None:
    cold = batch.cold
    if cold is None:
        return None
    return {
        "at_celsius": cold.celsius,
        "freezes_from_celsius": cold.onset_celsius,
        "error_celsius": ERROR_CELSIUS,
        "ice_g": cold.ice_g,
        "ice_mass_share": cold.ice_share,
        "volume_ml": cold.volume_ml,
        "each_serve_ml": batch.cold_serve_ml,
    }


def _alone(kept: BatchLife) -> dict[str, Any] | None:
    """What in it would keep less long by itself."""
    if kept.shortest is None:
        return None
    life = kept.shortest.life
    return {
        "ingredient": kept.shortest.item.key,
        "days": life.days,
        "use_by": life.ends(kept.made).isoformat(),
        "basis": life.basis,
        "source": life.source,
    }


def _kept(batch: Batch, bar: Bar) -> dict[str, Any]:
    kept = batch.kept
    return {
        **keeping_fields(kept.keeping, kept.use_by),
        "shortest_lived": _alone(kept),
        "delle_units": kept.delle,
        "water_activity": kept.activity,
        "cost": {
            "bottled": batch.cost,
            "each_serve": batch.found.values["cost"],
            "currency": bar.currency,
        },
        **guest_fields(batch.found.guest),
        "in_the_bottle": {
            **told_fields(batch.told),
            "ml": bottle_ml(batch),
            "standard_drinks": bottle_drinks(batch),
        },
    }
