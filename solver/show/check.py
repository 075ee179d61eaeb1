"""A guest's answer: yes or no first."""

from __future__ import annotations

from typing import Any

from solver.pantry.bar import Bar
from solver.search.loop import Ending
from solver.show.contract import document
from solver.show.document import design_fields
from solver.show.guest import DEFERS, allergen_words
from solver.show.text import design_text
from solver.show.why import OFF_AIM, short_spec, short_why
from solver.tasks.check import Verdict
from solver.tasks.guest import for_guest

VERDICTS = {
    Ending.OPTIMAL: "Yes",
    Ending.IMPOSSIBLE: "No",
    Ending.STOPPED: "Not known: there was no time to tell",
}


def check_text(verdict: Verdict, bar: Bar, *, everything: bool = False) -> str:
    """The verdict, then the drink, or the reason and what would be possible."""
    lines = [f"{VERDICTS[verdict.found.ending]}.", ""]
    lines.append(design_text(verdict.found, bar, everything=everything))
    left_out = _left_out(verdict)
    return "\n".join([*lines, *([""] if left_out else []), *left_out])


def verdicts_text(verdicts: tuple[Verdict, ...], bar: Bar) -> str:
    """Many verdicts, a paragraph each."""
    return "\n\n".join(
        [*(_paragraph(verdict, bar) for verdict in verdicts), f"{OFF_AIM}\n{DEFERS}"]
    )


def _paragraph(verdict: Verdict, bar: Bar) -> str:
    found = verdict.found
    said = VERDICTS[found.ending].lower()
    if found.answer is None:
        reason = short_why(found.why, bar) if found.why else []
        reason += _left_out(verdict)
        return "\n".join([f"{verdict.name}: {said}.", *(f"  {line}" for line in reason)])
    guest = for_guest(found.answer.ingredients, found.answer.drink.finished, bar)
    return "\n".join(
        [
            f"{verdict.name}: {said}, {found.profile.name}.",
            f"  {short_spec(found.answer, bar)}",
            f"  {guest.standard_drinks:.1f} standard drinks"
            f"{'' if allergen_words(guest) else '; allergens: none stated'}",
            *(f"  Caution: {caution}" for caution in guest.cautions),
            *(f"  {line}" for line in _left_out(verdict)),
        ]
    )


def _left_out(verdict: Verdict) -> list[str]:
    """What is not offered for want of knowledge."""
    if not verdict.left_out:
        return []
    names = ", ".join(ingredient.name for ingredient in verdict.left_out)
    return [f"Left out, as too little is known of what they hold: {names}."]


def check_json(verdict: Verdict, bar: Bar) -> str:
    """The document of one verdict."""
    return document("check", _fields(verdict, bar))


def verdicts_json(verdicts: tuple[Verdict, ...], bar: Bar) -> str:
    """The document of many."""
    fields = [{"name": verdict.name, **_fields(verdict, bar)} for verdict in verdicts]
    return document("check", {"verdicts": fields})


def _fields(verdict: Verdict, bar: Bar) -> dict[str, Any]:
    return {
        **design_fields(verdict.found, bar),
        "left_out": [ingredient.key for ingredient in verdict.left_out],
    }
