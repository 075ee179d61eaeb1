"""What people read in a terminal."""

from __future__ import annotations

from solver.measures import MEASURES, Form
from solver.pantry.bar import Bar
from solver.pantry.defaults import load_defaults
from solver.quantities import show_amount
from solver.search.loop import Ending
from solver.tasks.design import Answer, Design, value_of


def design_text(found: Design, bar: Bar) -> str:
    """The spec, what it is in the glass, cautions, and the proof."""
    if found.answer is None:
        return _nothing(found)
    answer = found.answer
    lines = [f"{found.profile.name}: {found.profile.technique}", ""]
    for pour in answer.pours:
        amount = show_amount(
            pour.amount,
            pour.tool,
            measures=bar.measures,
            piece_ml=pour.ingredient.piece_ml,
        )
        lines.append(f"  {amount:>14}  {pour.ingredient.name}")
    lines += ["", "In the glass:", *_measures(found, answer), ""]
    lines += _for_the_guest(answer, bar)
    lines += ["", proof_line(found)]
    return "\n".join(lines)


def _nothing(found: Design) -> str:
    if found.ending is Ending.IMPOSSIBLE:
        return (
            f"No drink on this shelf meets every limit of {found.profile.name}: proven by "
            f"{found.solver} in {found.seconds:.1f} s.\n"
            "Loosen a limit, leave out a --with or --without, or choose a larger glass."
        )
    return f"Nothing found in {found.seconds:.1f} s, and nothing proven. Try a longer --time-limit."


def _measures(found: Design, answer: Answer) -> list[str]:
    aims = {aim.measure: aim for aim in found.problem.aims}
    lines: list[str] = []
    for measure in MEASURES.values():
        value = value_of(answer, measure)
        if value is None or measure.form is Form.COUNT:
            continue
        aim = aims.get(measure)
        said = f"  {measure.label:<9}{value:>8.{measure.decimals}f} {measure.unit:<9}"
        if aim is not None:
            said += f" aim {aim.value:.{measure.decimals}f}"
        low = max((x.low or 0 for x in found.problem.limits if x.measure is measure), default=0.0)
        highs = [
            x.high for x in found.problem.limits if x.measure is measure and x.high is not None
        ]
        if low or highs:
            top = f"{min(highs):g}" if highs else ""
            said += f"   limits {low:g}..{top}"
        lines.append(said.rstrip())
    return lines


def _for_the_guest(answer: Answer, bar: Bar) -> list[str]:
    drink = load_defaults().jurisdiction(bar.jurisdiction).standard_drink
    grams = float(answer.finished.ethanol_g)
    lines = [f"Standard drinks ({bar.jurisdiction}, {drink.g:g} g): {grams / drink.g:.1f}"]
    unknown = [p.ingredient.name for p in answer.pours if p.ingredient.allergens is None]
    known = {a for p in answer.pours for a in p.ingredient.allergens or ()}
    possible = {a for p in answer.pours for a in p.ingredient.may_contain} - known
    lines.append(f"Allergens: {', '.join(sorted(known)) or 'none stated'}")
    if possible:
        lines.append(f"May contain: {', '.join(sorted(possible))}")
    if unknown:
        lines.append(f"Allergens not known: {', '.join(unknown)}")
    cautions = dict.fromkeys(c for p in answer.pours for c in p.ingredient.cautions)
    lines += [f"Caution: {caution}" for caution in cautions]
    lines.append("Labels, local rules and licensed practice come before what is said here.")
    return lines


def proof_line(found: Design) -> str:
    """What is proven, in one line."""
    if found.ending is not Ending.OPTIMAL:
        return f"Not proven: stopped after {found.seconds:.1f} s; something better may exist."
    if found.goal is None:
        claim = (
            f"Off aim by {found.objective:.2f} noticeable differences; nothing on the shelf is "
            f"closer than {found.bound:.2f}"
        )
    else:
        claim = (
            f"Least {found.goal.label}: {found.objective:.{found.goal.decimals}f} "
            f"{found.goal.unit}".rstrip()
            + f"; nothing on the shelf has less than {found.bound:.3g}"
        )
    return f"{claim}. Proven by {found.solver}, {found.seconds:.1f} s; checked exactly."
