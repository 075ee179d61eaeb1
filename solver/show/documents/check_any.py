"""The best of all profiles."""

from __future__ import annotations

from typing import Any

from solver.pantry.bar import Bar
from solver.show.documents.contract import document, finite
from solver.show.documents.design import answer_fields
from solver.show.documents.guest import avoided_fields
from solver.show.text.why import short_spec
from solver.tasks.check_any import AnyProfileResult, Proposal
from solver.tasks.why_no_profile import WhyNoProfile


def any_json(found: AnyProfileResult, bar: Bar) -> str:
    """The document of what all profiles have."""
    status = "optimal" if found.having else "stopped" if found.open else "impossible"
    return document(
        "check",
        {
            "status": status,
            "answers": [_fields(each, bar) for each in found.best],
            "profiles": {
                "asked": found.asked,
                "having": found.having,
                "none": list(found.none),
                "not_known": list(found.open),
            },
            "in_the_way": None if found.why_none is None else _way_fields(found.why_none, bar),
            "without": avoided_fields(found.best[0].found.avoided) if found.best else [],
            "interrupted": found.interrupted,
            "seconds": round(found.seconds, 3),
        },
    )


def _way_fields(why: WhyNoProfile, bar: Bar) -> dict[str, Any]:
    way = why.bought.way if why.bought else None
    return {
        "conflicts": [[demand.name for demand in demands] for demands in why.conflicts],
        "bought": [item.key for item in way.bought] if way else [],
        "profile": why.bought.profile if why.bought else None,
        "drink": short_spec(way.answer, bar) if way else None,
        "complete": not why.cut,
    }


def _fields(each: Proposal, bar: Bar) -> dict[str, Any]:
    answer = each.found.answer
    return {
        "profile": each.found.profile.name,
        "from_usual": finite(each.from_usual),
        "answer": answer_fields(each.found, answer, bar) if answer else None,
    }
