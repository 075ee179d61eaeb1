"""A drink of the bar as somebody orders it."""

from __future__ import annotations

from collections.abc import Collection
from shlex import quote

from solver.measures import Measure
from solver.pantry.bar import Bar
from solver.requests.demands import Demand, DemandKind
from solver.requests.origin import From
from solver.show.text.characters import word_lines
from solver.show.text.comparisons import longer_lines
from solver.show.text.design import (
    after_a_gap,
    design_text,
    left_off,
    left_out_lines,
    proven,
)
from solver.show.text.guest import day_line
from solver.show.text.rebalanced import fewest_line, measure_lines, pour_lines, told_lines
from solver.show.text.served import served_words
from solver.show.text.swapped import objection_words
from solver.show.text.target import target_line
from solver.show.text.why import answer_lines
from solver.tasks.design_result import Design, Status
from solver.tasks.longer_drink import WORD as LONGER
from solver.tasks.respec.as_profile import WATER
from solver.tasks.respec.order import GuestOrder
from solver.tasks.respec.rebalanced import Rebalanced

ASKED = frozenset({From.REQUEST, From.DRINKS, From.COMPARISON})
"""Where what somebody asks for comes from."""


def order_text(ordered: GuestOrder, bar: Bar, *, everything: bool = False) -> str:
    """The drink beside the spec, line by line, and what a guest should know; or why there is none.

    With `everything`, every limit is named.
    """
    found, poured = ordered.found, ordered.poured
    if ordered.objections:
        lines = [f"{ordered.spec.name} is not for this guest:"]
        lines += [f"  {objection_words(each)}" for each in ordered.objections]
        lines += ["", design_text(found, bar)] if found.answer is None else day_line(bar)
        return "\n".join([*lines, *_another(found)])
    if poured is None or poured.after is None:
        another = _another(found) if found.answer is None else []
        return "\n".join([design_text(found, bar), *another])
    lines = [*longer_lines(found), f"{ordered.spec.name}: {served_words(found, bar)}"]
    asked = [_asked(demand) for demand in found.demands if demand.origin.kind in ASKED]
    lines += [f"Asked: {'; '.join(asked)}."] if asked else []
    lines += word_lines(found.words)
    lines += ["", *pour_lines(poured, bar)]
    left = left_off(found)
    lines += [f"  {'':>12}  {'without':>12}  {left}, for the guest"] if left else []
    held = {demand.measure for demand in found.demands if demand.origin.kind is From.SPEC}
    moving = {aim.measure for aim in poured.kept.aims if aim.measure not in held}
    lines += ["", *measure_lines(poured, bar, moving), ""]
    lines += [*_off(found, poured), *_proof(found, poured)]
    lines += [_held(poured, moving, longer=_thinned(found))]
    lines += told_lines(poured)
    if everything and found.why is not None and found.answer is not None:
        lines += ["", *answer_lines(found.why, found.answer, bar)]
    return "\n".join([*lines, *after_a_gap([*left_out_lines(found, bar), *day_line(bar)])])


def _another(found: Design) -> list[str]:
    """Where a guest who cannot have this drink finds another."""
    if not found.avoided:
        return []
    words = [f"--without {quote(each.word)}" for each in found.avoided]
    words += [step.option for step in found.steps]
    return ["", f"Another drink for this guest: equipour check any {' '.join(words)}"]


def _off(found: Design, poured: Rebalanced) -> list[str]:
    """What is not as it was asked for, where nothing is."""
    if found.targets is None or not found.targets.off or poured.after is None:
        return []
    said = target_line(poured.after.values, found.problem.aims, kept=False)
    missed = f"{said[:1].lower()}{said[1:]}".replace("aimed at", "asked")
    return [f"Within the usual pours of its lines nothing comes closer: {missed}"]


def _proof(found: Design, poured: Rebalanced) -> list[str]:
    if found.status is Status.STOPPED:
        return [f"Not proven: stopped after {found.seconds:.1f} s; a smaller change may do."]
    if found.status is Status.DISPUTED:
        return ["Not proven: two solvers disagree. The fault is equipour's: please report it."]
    named = {WATER, *(demand.subject for demand in found.demands if demand.kind is DemandKind.WITH)}
    if any(row.was is None and row.line.ingredient.key not in named for row in poured.lines):
        said = (
            "Of what can stand in, the most alike; with it, no fewer or smaller a change would do."
        )
        return [f"{said} {proven(found)}"]
    return [f"{fewest_line(poured)} {proven(found)}"]


def _asked(demand: Demand) -> str:
    """A demand in the words of who asked: "1 step lighter (strength at most 15.6 % vol)"."""
    said = demand.origin.of
    return f"{said} ({demand.says})" if said else demand.says


def _thinned(found: Design) -> bool:
    """Whether a drink is made longer with more of its own top."""
    return not found.only_larger and any(step.word == LONGER for step in found.steps)


def _held(poured: Rebalanced, moving: Collection[Measure], *, longer: bool) -> str:
    """What the rest of it is held to."""
    kept = poured.kept
    was = "what it is today" if kept.approved is None else f"what was approved on {kept.approved}"
    gone = [met for met in kept.moved(poured.before.values) if met.aim.measure not in moving]
    since = "; what has moved since moves no further" if gone else ""
    thinner = "; more of its top may make it thinner" if longer else ""
    return f"The rest is held to {was}, within one noticeable difference{since}{thinner}."
