"""What people read in a terminal."""

from __future__ import annotations

from solver.measures import MEASURES, Form
from solver.pantry.bar import Bar
from solver.pantry.ingredient import Ingredient
from solver.pantry.profile import Profile
from solver.search.loop import Ending
from solver.show.guest import guest_lines
from solver.show.pours import said_amount
from solver.tasks.design import Answer, Design
from solver.tasks.guest import for_guest


def design_text(found: Design, bar: Bar) -> str:
    """The spec, what it is in the glass, cautions, and the proof."""
    if found.answer is None:
        return _nothing(found)
    answer = found.answer
    lines = [f"{found.profile.name}: {found.profile.technique}", ""]
    lines += [f"  {said_amount(pour, bar):>14}  {pour.ingredient.name}" for pour in answer.pours]
    lines += ["", "In the glass:", *_measures(found, answer), ""]
    lines += guest_lines(for_guest(answer.ingredients, answer.drink.finished, bar))
    lines += ["", proof_line(found)]
    for number, other in enumerate(found.alternatives, start=1):
        said = ", ".join(f"{said_amount(p, bar)} {p.ingredient.name}" for p in other.pours)
        lines += ["", f"Alternative {number}, off aim by {other.off_aim:.2f}: {said}"]
    if len(found.alternatives) < found.asked_alternatives:
        lines += ["", "No further alternative with another base or modifier was proven."]
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
        value = answer.values[measure.name]
        if value is None or measure.form is Form.COUNT:
            continue
        aim = aims.get(measure)
        said = f"  {measure.label:<9}{value:>8.{measure.decimals}f} {measure.unit:<9}"
        if aim is not None:
            said += f" aim {aim.value:.{measure.decimals}f}"
        limits = [limit for limit in found.problem.limits if limit.measure is measure]
        low = max((limit.low or 0.0 for limit in limits), default=0.0)
        highs = [limit.high for limit in limits if limit.high is not None]
        if low or highs:
            top = f"{min(highs):g}" if highs else ""
            said += f"   limits {low:g}..{top}"
        lines.append(said.rstrip())
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


def ingredient_text(ingredient: Ingredient) -> str:
    """An ingredient, its figures, and where they come from."""
    lines = [f"{ingredient.name}  [{ingredient.key}]", f"  kind       {ingredient.kind}"]
    units = {
        "abv": "% vol",
        "sugar": f"g/100 {ingredient.unit}",
        "acid": f"g/100 {ingredient.unit}",
    }
    for name, unit in units.items():
        figure = getattr(ingredient, name)
        lines.append(f"  {name:<9}{figure.value:>7g} {unit}  ({figure.basis}: {figure.source})")
    allergens = ingredient.allergens
    said = "not known" if allergens is None else ", ".join(sorted(allergens)) or "none stated"
    lines.append(f"  allergens  {said}")
    if ingredient.may_contain:
        lines.append(f"  may hold   {', '.join(sorted(ingredient.may_contain))}")
    lines += [f"  caution    {caution}" for caution in ingredient.cautions]
    return "\n".join(lines)


def shelf_text(bar: Bar) -> str:
    """What the bar has: one line for each bottle."""
    lines = [f"{'':<30}{'% vol':>7}{'sugar':>7}{'acid':>7}{'on hand':>12}{'price':>9}"]
    for stocked in bar.stock:
        item = stocked.ingredient
        hand = "" if stocked.on_hand is None else f"{stocked.on_hand:.0f} {item.unit}"
        price = "" if stocked.price is None else f"{stocked.price:.2f}"
        lines.append(
            f"{item.key[:29]:<30}{item.abv.value:>7.1f}{item.sugar.value:>7.1f}"
            f"{item.acid.value:>7.2f}{hand:>12}{price:>9}"
        )
    return "\n".join(line.rstrip() for line in lines)


def profile_text(profile: Profile) -> str:
    """A profile as its file has it: parts, aims, limits, source."""
    lines = [f"{profile.name}: {profile.says}"]
    lines.append(f"  {profile.technique}, glass: {profile.glass or 'any'}")
    for part in profile.parts:
        least, most = part.count
        count = str(least) if least == most else f"{least} to {most}"
        what = ", ".join((*part.kinds, *part.ingredients))
        lines.append(f"  {part.name:<11}{count:<7}{part.each or '':<18}{what}")
    for title, targets in (("aim", profile.aims), ("limit", profile.limits)):
        lines += [f"  {title:<11}{MEASURES[t.measure].label:<11}{t.text}" for t in targets]
    lines.append(f"  {profile.source.basis}: {profile.source.text}")
    return "\n".join(lines)
