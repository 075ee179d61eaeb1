"""A spec beside what it becomes."""

from __future__ import annotations

from typing import Any

from solver.drinks.assess import AimMet, Assessment
from solver.pantry.bar import Bar
from solver.show.documents.assessed import assessed_fields
from solver.show.documents.limits import limit_fields
from solver.show.text.pours import said_amount
from solver.show.text.rebalanced import limits_said, status_of
from solver.tasks.respec.rebalanced import Finer, Rebalanced


def rebalanced_fields(found: Rebalanced, bar: Bar) -> dict[str, Any]:
    """What every document says of a spec that was poured anew."""
    return {
        "status": status_of(found),
        "approved": found.kept.approved.isoformat() if found.kept.approved else None,
        "before": assessed_fields(found.before, bar),
        "answer": _fields(found.after, bar),
        "kept": [_kept_fields(met, found) for met in found.kept.met(found.before.values)],
        "changed_pours": found.changed_pours,
        "changes": [
            {
                "ingredient": each.line.ingredient.key,
                "from": said_amount(each.was, bar) if each.was else None,
                "to": said_amount(each.now, bar) if each.now else None,
            }
            for each in found.changes
        ],
        "gained": [{"kind": e.kind.rstrip(":"), "what": e.word} for e in found.consequences.gained],
        "lost": [{"kind": e.kind.rstrip(":"), "what": e.word} for e in found.consequences.lost],
        "cautions_gained": list(found.cautions_gained),
        "cautions_lost": list(found.cautions_lost),
        "conflicts": [
            {
                "limits": [limit_fields(limit, None) for limit in limits],
                "says": limits_said(limits),
            }
            for limits in found.conflicts
        ],
        "finer": _finer_fields(found.finer, bar),
        "reasons_complete": not found.undecided,
        "compared": found.compared,
    }


def _finer_fields(finer: Finer | None, bar: Bar) -> dict[str, Any] | None:
    if finer is None:
        return None
    return {"pour_set": finer.pour_set, "answer": _fields(finer.result.after, bar)}


def _fields(made: Assessment | None, bar: Bar) -> dict[str, Any] | None:
    return assessed_fields(made, bar) if made else None


def _kept_fields(met: AimMet, found: Rebalanced) -> dict[str, Any]:
    measure = met.aim.measure
    after = found.after.values[measure.name] if found.after else None
    return {
        "measure": measure.name,
        "unit": measure.unit,
        "value": met.aim.value,
        "tolerance": met.aim.tolerance,
        "before": met.value,
        "after": after,
        "distance": AimMet(met.aim, after).distance,
    }
