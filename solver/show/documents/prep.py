"""A house ingredient, prepared: what programs read."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date
from typing import Any

from solver.pantry.bar import Bar
from solver.show.documents.contract import document
from solver.show.documents.guest import told_fields
from solver.show.documents.produced import produced_fields
from solver.tasks.prep.impact_on_specs import SpecImpact
from solver.tasks.prep.prepare import Prep
from solver.tasks.prep.scale_batch import ScaledRecipe
from solver.tasks.prep.shelf_life import Keeping
from solver.tasks.stock.made_batch import Produced


def prep_json(
    prep: Prep,
    bar: Bar,
    impacts: Sequence[SpecImpact] = (),
    batch: ScaledRecipe | None = None,
    stocked: Produced | None = None,
) -> str:
    """The document of a preparation, format 1."""
    return document("prep", prep_fields(prep, bar, impacts, batch, stocked))


def _carried_fields(drink: SpecImpact) -> dict[str, Any]:
    return {
        "spec": drink.spec,
        "file": drink.file,
        "changes": [
            {
                "measure": change.measure.key,
                "before": change.before,
                "now": change.now,
                "noticeable": change.noticeable,
            }
            for change in drink.changes
        ],
    }


def prep_fields(
    prep: Prep,
    bar: Bar,
    impacts: Sequence[SpecImpact] = (),
    batch: ScaledRecipe | None = None,
    stocked: Produced | None = None,
) -> dict[str, Any]:
    """The fields of that document."""
    return {
        "name": prep.recipe.key,
        "made": prep.made.isoformat(),
        "measured": prep.measured,
        **_cooked_fields(prep),
        "cost": _cost_fields(prep, bar),
        **_guest_fields(prep),
        "make": _making_fields(batch) if batch else None,
        "stocked": produced_fields(stocked) if stocked else None,
        "drinks": [_carried_fields(drink) for drink in impacts],
    }


def _cooked_fields(prep: Prep) -> dict[str, Any]:
    return {
        "inputs": [
            {"ingredient": p.key, "written": p.written, "g": p.grams, "cost": p.cost,
             "assumed": p.assumed or None}
            for p in prep.puts
        ],
        "figures": {
            name: {"value": known.value, "sd": known.sd}
            for name, known in vars(prep.figures).items()
        },
        "losses": [
            {"step": lost.step, "g": lost.grams.value, "sd": lost.grams.sd,
             "usual_g": lost.usual.value, "usual_sd": lost.usual.sd,
             "dry_matter_g": lost.solids_g, "weighed": lost.weighed,
             "boils_celsius": lost.boils_celsius}
            for lost in prep.losses
        ],
        "brix_unboiled": prep.brix_unboiled,
        "brix_unstrained": prep.brix_unstrained,
        "readings": [
            {"kind": c.reading.kind.value, "value": c.reading.value, "sd": c.reading.sd,
             "fitted": c.fitted}
            for c in prep.checked
        ],
    }  # fmt: skip


def _cost_fields(prep: Prep, bar: Bar) -> dict[str, Any]:
    volume = prep.figures.volume_ml.value
    return {
        "batch": prep.cost,
        "per_ml": None if prep.cost is None else prep.cost / volume,
        "currency": bar.currency,
        "unpriced": list(prep.unpriced),
    }


def _guest_fields(prep: Prep) -> dict[str, Any]:
    told = prep.told
    return {
        **keeping_fields(prep.keeping, prep.use_by),
        **told_fields(told),
        "allergens_known": sorted(told.allergens),
        "allergens_not_known": list(told.allergens_not_known),
        "animal_known": sorted(told.animal),
        "animal_not_known": list(told.animal_not_known),
        "cautions": list(told.cautions),
        "kitchen_cautions": list(told.kitchen_cautions),
    }


def keeping_fields(keeping: Keeping, use_by: date) -> dict[str, Any]:
    """How long something is planned to keep, and why."""
    life = keeping.life
    return {
        "life": {
            "days": life.days,
            "use_by": use_by.isoformat(),
            "why": life.why,
            "basis": life.basis,
            "source": life.source,
        },
        "says": list(keeping.says),
        "hazards": list(keeping.hazards),
    }


def _making_fields(batch: ScaledRecipe) -> dict[str, Any]:
    return {
        "asked": batch.asked,
        "g": list(batch.grams),
        "volume_ml": batch.volume_ml,
        "mass_g": batch.mass_g,
    }
