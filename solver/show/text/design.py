"""What people read in a terminal."""

from __future__ import annotations

import math
from dataclasses import replace
from typing import TYPE_CHECKING

from solver.drinks.answer import Answer
from solver.drinks.empty_parts import empty_parts
from solver.measures import MEASURES, Form
from solver.pantry.bar import Bar
from solver.pantry.missing_prices import unpriced_names
from solver.requests.demands import DemandKind
from solver.requests.leaves import leaves_in
from solver.search.lexicographic import Agreed, Disagreed, SecondOpinion
from solver.search.result import Impossible, Optimal, Stopped
from solver.show.text.characters import character_lines, word_lines
from solver.show.text.comparisons import compared_lines, longer_lines
from solver.show.text.floated import float_lines
from solver.show.text.glass import glass_lines
from solver.show.text.guest import avoided_lines, day_line, guest_lines, left_out_line, past_line
from solver.show.text.in_keeping import in_keeping_lines, pair_lines
from solver.show.text.limits import span_words
from solver.show.text.pours import pour_line
from solver.show.text.served import served_words
from solver.show.text.target import ends, target_line
from solver.show.text.uncertain import uncertain_lines, uncooked_lines
from solver.show.text.why import answer_lines, beside_lines, impossible_lines, short_spec
from solver.show.words.names_in_a_row import listed
from solver.tasks.design_result import Design, Explain, Open, Status

if TYPE_CHECKING:
    from solver.tasks.respec.swap import Swaps

ALIKE = 5e-3
"""A gap in the goal that would not be seen in what is printed."""


def design_text(found: Design, bar: Bar, *, everything: bool = False) -> str:
    """The spec, what it is in the glass, cautions, the proof, and what holds it back.

    With `everything`, every limit is named.
    """
    if found.answer is None:
        return _nothing(found, bar, everything=everything)
    answer = found.answer
    lines = [*far_lines(found, bar), *longer_lines(found)]
    lines += [f"{found.profile.name}: {served_words(found, bar)}", ""]
    technique = found.profile.technique
    lines += [pour_line(pour, technique, bar) for pour in answer.pours]
    lines += [f"  {'with':>14}  {answer.garnish}"] if answer.garnish else []
    left = left_off(found)
    lines += [f"  {'without':>14}  {left}, for the guest"] if left else []
    lines += ["", "In the glass:", *_measures(found, answer, bar)]
    lines += [*float_lines(answer.floated), ""]
    lines += [target_line(answer.values, answer.aims, kept=True)] if answer.aims else []
    lines += _bare_lines(found, answer, bar)
    lines += [SHOWS_LESS] if found.shows_less else []
    lines += compared_lines(found, bar)
    lines += word_lines(found.words)
    lines += character_lines(answer, found.problem.limits, bar)
    lines += in_keeping_lines(answer)
    lines += uncooked_lines(answer.pours, float(answer.drink.finished.volume_ml), bar)
    lines += glass_lines(found.glass, float(answer.drink.finished.volume_ml), bar)
    lines += guest_lines(answer.guest)
    lines += ["", *proof_lines(found, bar)]
    lines += _reason_lines(found, answer, bar, everything=everything)
    lines += _out_of_reach(found)
    for number, other in enumerate(found.alternatives, start=1):
        lines += ["", f"Alternative {number}: {short_spec(other, bar)}"]
        lines += [f"  {line}" for line in in_keeping_lines(other)]
    if found.alternatives_cut:
        lines += ["", "The search for alternatives was cut short: there may be more."]
    elif len(found.alternatives) < found.asked_alternatives and found.status is Status.OPTIMAL:
        lines += ["", "There is no further one of another base family with other modifiers."]
    return "\n".join([*lines, *after_a_gap([*left_out_lines(found, bar), *day_line(bar)])])


def far_lines(found: Design, bar: Bar) -> list[str]:
    """What was asked for and nothing is near, where there is only the closest."""
    if not found.far_off:
        return []
    asked = listed(each.measure.amount(each.asked, bar.currency) for each in found.far_off)
    has = listed(
        each.measure.amount(round(each.value, each.measure.decimals), bar.currency)
        for each in found.far_off
    )
    return [f"Nothing near {asked}: the closest has {has}.", ""]


def _bare_lines(found: Design, answer: Answer, bar: Bar) -> list[str]:
    """What such a drink usually has, and lacks since the bar has nothing of the sort."""
    filled = {pour.part for pour in answer.pours}
    missing = (listed(each.name for each in of) for of in empty_parts(found.profile, bar, filled))
    usual = [
        f"Usually with {names}: the shelf has nothing of the sort." for names in missing if names
    ]
    return [*usual, *_leaf_lines(found, answer, bar)]


def _leaf_lines(found: Design, answer: Answer, bar: Bar) -> list[str]:
    """That it is no such drink without its leaves, where the shelf has none or a guest avoids
    them."""
    name = found.profile.name
    no_such = f"without them it is not {'an' if name[:1] in 'aeiou' else 'a'} {name}."
    gone = [each.ingredient.name for each in leaves_in(left_off(found), bar)]
    short = [each.ingredient.name for each in answer.leaves if not each.on_shelf]
    said = [f"No {each} on the shelf: {no_such}" for each in short]
    return [*said, *(f"No {each}, for the guest: {no_such}" for each in gone)]


def left_off(found: Design) -> str | None:
    """The usual garnish of such a drink, where it is left off for what a guest avoids."""
    answer = found.answer
    if answer is None or answer.garnish is not None:
        return None
    return found.profile.garnish_on(answer.ingredients)


def _reason_lines(found: Design, answer: Answer, bar: Bar, *, everything: bool) -> list[str]:
    """What holds a drink back; with `everything` all of it, and what of it goes together."""
    if found.why is None:
        cut = Open.REASONS in found.open or found.interrupted
        return ["Stopped before it was known what holds it back."] if cut else []
    if not everything:
        return beside_lines(found.why, answer, bar)
    pairs = [f"  {each}" for each in pair_lines(answer)]
    together = ["", "What goes together, most in keeping first:", *pairs] if pairs else []
    certain = [*_compared_lines(found), *uncertain_lines(answer.uncertain)]
    return [*certain, *together, "", *answer_lines(found.why, answer, bar)]


def _nothing(found: Design, bar: Bar, *, everything: bool) -> str:
    if found.status is Status.STOPPED:
        remedy = "Interrupted." if found.interrupted else "Try a longer --time-limit."
        return f"Nothing found in {found.seconds:.1f} s, and nothing proven. {remedy}"
    compared = _compared_lines(found) if everything else []
    lines = [*longer_lines(found), *word_lines(found.words), *proof_lines(found, bar), *compared]
    if found.beneath is not None:
        lines += _beneath(found, found.beneath, bar)
    elif found.why is not None:
        lines += ["", *impossible_lines(found.why, found.profile, found.demands, bar, found.steps)]
    elif Open.REASONS in found.open or found.interrupted:
        lines += ["", "Stopped before it was known what stands in the way."]
    return "\n".join([*lines, *after_a_gap([*left_out_lines(found, bar), *day_line(bar)])])


def _out_of_reach(found: Design) -> list[str]:
    """Aims that no drink can meet, since a limit of the request itself stands before them."""
    lines: list[str] = []
    for aim in found.problem.aims:
        for limit in found.problem.limits:
            low, high = limit.low or 0.0, math.inf if limit.high is None else limit.high
            least, most = aim.range
            if limit.measure is aim.measure and (most < low or least > high):
                said = f"{span_words(aim.measure, *ends(aim))} {aim.measure.unit}".rstrip()
                lines.append(f"The aim of {said} lies beyond a limit: {limit.name}.")
    return lines


def left_out_lines(found: Design | Swaps, bar: Bar) -> list[str]:
    """What is not offered: for a guest's words, for want of knowledge, or for its age."""
    return [
        *avoided_lines(found.avoided, bar),
        *left_out_line(found.left_out),
        *past_line(found.past),
    ]


def _unpriced(answer: Answer, bar: Bar) -> str:
    keys = [pour.ingredient.key for pour in answer.pours if pour.cost is None]
    return "; ".join(unpriced_names(bar, *keys))


def after_a_gap(lines: list[str]) -> list[str]:
    """Lines that stand apart from those before, if there are any."""
    return ["", *lines] if lines else []


def _measures(found: Design, answer: Answer, bar: Bar) -> list[str]:
    aims = {aim.measure: aim for aim in found.problem.aims}
    lines: list[str] = []
    for measure in MEASURES.values():
        value = answer.values[measure.name]
        if value is None and measure.form is Form.COST:
            lines.append(f"  {measure.label:<9}not known: no price for {_unpriced(answer, bar)}")
        if value is None or measure.form is Form.COUNT:
            continue
        aim = aims.get(measure)
        limits = [limit for limit in found.problem.limits if limit.measure is measure]
        if measure.aside and aim is None and not limits:
            continue
        unit = measure.unit_in(bar.currency)
        said = f"  {measure.label:<9}{value:>8.{measure.decimals}f} {unit:<9}"
        aimed = f"aim {span_words(measure, *ends(aim))}" if aim is not None else ""
        said += f" {aimed:<17}"
        low = max((limit.low for limit in limits if limit.low), default=None)
        high = min((limit.high for limit in limits if limit.high is not None), default=None)
        if low is not None or high is not None:
            both = low is not None and high is not None
            said += f"   {'limits ' if both else ''}{span_words(measure, low, high)}"
        lines.append(said.rstrip())
    return lines


def proof_lines(found: Design, bar: Bar) -> list[str]:
    """What is proven and what is not, in a line each."""
    match found.status:
        case Status.OPTIMAL:
            return [f"{_claim(found, bar)}. {proven(found)}"]
        case Status.IMPOSSIBLE if found.beneath is not None:
            return [f"Nothing on target here is {_so_much_in_keeping(found)}. {proven(found)}"]
        case Status.IMPOSSIBLE:
            return [f"This shelf has no such {found.profile.name}. {proven(found)}"]
        case Status.DISPUTED:
            return _dispute(found, bar)
        case Status.STOPPED if found.goal_settled and found.answer is not None:
            after = f"Stopped after {found.seconds:.1f} s"
            return [f"{_claim(found, bar)}. {proven(found)}", f"{after}: {NOT_CHOSEN}."]
        case Status.STOPPED:
            return [f"Not proven: stopped after {found.seconds:.1f} s; something better may exist."]


def _claim(found: Design, bar: Bar) -> str:
    """How good the answer is, and how good the best."""
    if found.goal is None:
        return _claim_in_keeping(found)
    unit = f" {found.goal.unit_in(bar.currency)}".rstrip()
    least = "Fewest" if found.goal.form is Form.COUNT else "Least"
    claim = f"{least} {found.goal.label}: {found.objective:.{found.goal.decimals}f}{unit}"
    closest = f"nothing on the shelf has less than {found.bound:.3g}{unit}"
    if found.solver is None and found.objective - found.bound < ALIKE:
        closest = "nothing on the shelf does better"
    return f"{claim}; {closest}{_that_is_on_target(found)}"


def _claim_in_keeping(found: Design) -> str:
    """How much in keeping an answer is, against every set of ingredients there is."""
    targets, before = found.targets, found.keeping.before if found.keeping else None
    if targets is None or not targets.off:
        if before is None:
            return "Of all that the shelf makes on target, nothing is more in keeping"
        if before == 0:
            of = "with what was asked for" if _asks_for_something(found) else "on the shelf"
            return f"No set of ingredients {of} is more in keeping"
        if before == 1:
            return "1 set of ingredients is more in keeping; it cannot be poured on target"
        more = f"{before:,} sets of ingredients are more in keeping"
        return f"{more}; none of them can be poured on target"
    return (
        f"Nothing on the shelf is on target: the closest is {targets.off:.1f} steps off, and of "
        "what is as close or nearly, this is most in keeping"
    )


def _asks_for_something(found: Design) -> bool:
    """Whether an ingredient or a character is asked for: then only sets with it are compared."""
    kinds = (DemandKind.WITH, DemandKind.CHARACTER)
    return any(d.kind in kinds or (d.measure and d.measure.tags) for d in found.demands)


def _that_is_on_target(found: Design) -> str:
    """What a measured goal is the least of."""
    said: list[str] = []
    if found.problem.aims and found.targets is not None:
        off = found.targets.off
        said.append("on target" if not off else f"as close ({off:.1f} steps off) or nearly")
    if found.as_in_keeping_as is not None:
        said.append(_so_much_in_keeping(found))
    return f", of what is {' and '.join(said)}" if said else ""


def _so_much_in_keeping(found: Design) -> str:
    """How much in keeping a drink was asked to be."""
    return f"as in keeping as {100 * (found.as_in_keeping_as or 0.0):.3g} % of published drinks"


def _beneath(found: Design, answer: Answer, bar: Bar) -> list[str]:
    """What is most in keeping though less than was asked, and what keeps it from being more so."""
    lines = [f"Most in keeping: {short_spec(answer, bar)}", *in_keeping_lines(answer)]
    why = found.why
    if why is None:
        return lines
    if found.explain is not Explain.EVERYTHING:
        why = replace(why, reasons=tuple(reason for reason in why.reasons if reason.binding))
    return [*lines, "", *answer_lines(why, answer, bar)]


SHOWS_LESS = "As much as is usual of what it shows would be off target: it is less."
NOT_CHOSEN = "it is not known which of those that are as good has the most usual pours"
"""What is not known of an answer though the best of its goal is."""


def _dispute(found: Design, bar: Bar) -> list[str]:
    """What two solvers come to that do not agree."""
    if not isinstance(found.verdict, Disagreed):
        message = "there is no dispute without two words"
        raise TypeError(message)
    first, second = found.verdict.first, found.verdict.second
    return [
        "Not proven: two ways to prove it come to different ends, so that one of them is wrong.",
        f"First: {_end(found, first, found.answer, bar)}.",
        f"Then, by {found.verdict.solver}: {_end(found, second, found.rival, bar)}.",
        "The fault is equipour's: please report the command and the bar.",
    ]


def _end(found: Design, end: Optimal | Impossible, answer: Answer | None, bar: Bar) -> str:
    """What one of them comes to."""
    if isinstance(end, Impossible) or answer is None:
        return "there is no such drink"
    goal = found.goal
    like = f"a drink like {short_spec(answer, bar)}"
    if goal is None:
        return f"most in keeping is {like} (worth {-end.bound:.6g})"
    bound = f"{end.bound:.4g} {goal.unit_in(bar.currency)}".rstrip()
    return f"the least {goal.label} is {bound}, with {like}"


def proven(found: Design) -> str:
    """Who or what proved the claim, in a sentence."""
    alone = found.compared is None and found.solver is not None
    by = f"Proven by {found.solver}" if alone else "Proven"
    return f"{by}{_second_word(found.verdict)}, {found.seconds:.2f} s."


def _compared_lines(found: Design) -> list[str]:
    """How many drinks a proof went through, where they were compared one and all."""
    if not found.compared or (found.goal is None and found.keeping is not None):
        return []
    if found.compared == 1:
        return ["There is no other way to pour it from the shelf."]
    return [f"All {found.compared:,} ways to pour it from the shelf were compared."]


def _second_word(verdict: SecondOpinion | None) -> str:
    """What a second solver says, where it was asked."""
    match verdict:
        case Agreed(solver=solver):
            return f"; {solver} agrees"
        case Stopped():
            return "; stopped before a second solver had its word"
        case Disagreed() | None:
            return ""
