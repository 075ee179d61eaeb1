"""How much a drink is in keeping, with the counts that say so."""

from __future__ import annotations

from typing import Any

from solver.drinks.answer import Answer
from solver.harmony.pairs import PairEvidence
from solver.show.text.in_keeping import in_keeping_line, names_in


def in_keeping_fields(answer: Answer) -> dict[str, Any] | None:
    """The same for programs; None where it was not asked."""
    evidence = answer.evidence
    if evidence is None:
        return None
    return {
        "worth": round(evidence.worth, 6),
        "dial": evidence.dial.value,
        "pairs": [_pair_fields(pair) for pair in evidence.pairs],
        "not_known": [flavour.name for flavour in evidence.unknown],
        "says": in_keeping_line(evidence, names_in(answer)),
    }


def _pair_fields(pair: PairEvidence) -> dict[str, Any]:
    printed = pair.printed
    return {
        "of": [pair.one.name, pair.other.name],
        "worth": round(pair.worth, 6),
        "met": printed.met if printed else None,
        "drinks": printed.drinks if printed else None,
        "expected": round(printed.expected, 3) if printed else None,
        "own_specs": pair.own,
        "tastings": pair.tasted.count if pair.tasted else 0,
        "mean_score": pair.tasted.mean if pair.tasted else None,
    }
