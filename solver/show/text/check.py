"""A guest's answer: yes or no first."""

from __future__ import annotations

from solver.pantry.bar import Bar
from solver.show.text.characters import word_lines
from solver.show.text.design import design_text, left_off, left_out_lines
from solver.show.text.guest import DEFERS, day_line, told_words
from solver.show.text.swapped import objection_words
from solver.show.text.why import STEPS, short_spec, short_why
from solver.tasks.check import Verdict
from solver.tasks.design_result import Design, Status


def verdict_words(found: Design) -> str:
    """Yes or no, or what is not known: a drink that keeps what was asked is one, best or not."""
    match found.status:
        case Status.OPTIMAL | Status.STOPPED if found.far_off:
            return (
                "No" if found.status is Status.OPTIMAL else "Not known: there was no time to tell"
            )
        case Status.OPTIMAL:
            return "Yes"
        case Status.IMPOSSIBLE:
            return "No"
        case Status.DISPUTED:
            return "Not known: two solvers disagree"
        case Status.STOPPED if found.answer is not None:
            return "Yes, though it is not proven the best"
        case Status.STOPPED if found.interrupted:
            return "Not known: it was stopped"
        case Status.STOPPED:
            return "Not known: there was no time to tell"


def check_text(verdict: Verdict, bar: Bar, *, everything: bool = False) -> str:
    """The verdict, then the drink, or the reason and what would be possible."""
    lines = [f"{verdict_words(verdict.found)}.", ""]
    lines.append(design_text(verdict.found, bar, everything=everything))
    return "\n".join(lines)


def verdicts_text(verdicts: tuple[Verdict, ...], bar: Bar) -> str:
    """Many verdicts, a paragraph each."""
    return "\n\n".join(
        [
            *(_paragraph(verdict, bar) for verdict in verdicts),
            "\n".join([STEPS, *day_line(bar), DEFERS]),
        ]
    )


def _paragraph(verdict: Verdict, bar: Bar) -> str:
    found = verdict.found
    words = verdict_words(found)
    said = f"{words[:1].lower()}{words[1:]}"
    if found.answer is None:
        against = verdict.order.objections if verdict.order else ()
        reason = [objection_words(each) for each in against]
        reason += short_why(found.why, bar) if found.why else []
        reason += left_out_lines(found, bar)
        return "\n".join([f"{verdict.name}: {said}.", *(f"  {line}" for line in reason)])
    guest = found.answer.guest
    return "\n".join(
        [
            f"{verdict.name}: {said}, {found.profile.name}.",
            f"  {short_spec(found.answer, bar)}",
            *(f"  {line}" for line in word_lines(found.words)),
            *([f"  Without its garnish: {garnish}."] if (garnish := left_off(found)) else []),
            f"  {guest.standard_drinks:.1f} standard drinks"
            f"{'' if told_words(guest.told) else '; allergens: none stated'}",
            *(f"  Caution: {caution}" for caution in guest.cautions),
            *(f"  {line}" for line in left_out_lines(found, bar)),
        ]
    )
