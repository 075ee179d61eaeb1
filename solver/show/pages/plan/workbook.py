"""A plan as a workbook: what to prepare, pour and order, to tick off; labels; stock by day."""

from __future__ import annotations

import io
from collections.abc import Iterable, Iterator, Sequence
from typing import TYPE_CHECKING

from solver.pantry.bar import Bar
from solver.printable import printable
from solver.show.pages.card.garnish import garnish_words
from solver.show.pages.plan import paper
from solver.show.text import plan_words as said
from solver.show.text.set_aside import batches_said
from solver.show.text.table import DECIMALS, Cell
from solver.show.words import Words
from solver.show.words.phrase import Phrase
from solver.tasks.plan.answer import Ending, Plan

if TYPE_CHECKING:
    from openpyxl.worksheet.worksheet import Worksheet

Rows = Iterator[Sequence[Cell]]
BOX = "☐"
_WIDEST, _MARGIN = 60, 2
"""How wide a column gets, in letters, and what it has beside its longest text."""


def plan_workbook(plan: Plan, bar: Bar, words: Words) -> bytes:
    """A workbook of one sheet for each list; nothing in it is a formula.

    Raises:
        ImportError: openpyxl is not installed.
    """
    import openpyxl

    book = openpyxl.Workbook()
    book.remove(book.active)
    for title, heads, rows in _sheets(plan, bar, words):
        _fill(book.create_sheet(words.say("plan", title)), heads, rows)
    out = io.BytesIO()
    book.save(out)
    return out.getvalue()


def _sheets(plan: Plan, bar: Bar, words: Words) -> Iterator[tuple[str, Sequence[str], Rows]]:
    """Each list by the key of its title, with its heads."""
    currency = f", {bar.currency}" if bar.currency else ""
    dates = [str(plan.question.day(day)) for day in range(plan.question.nights.days)]

    def heads(*keys: str) -> list[str]:
        return [words.say("plan", key) if key else "" for key in keys]

    made = heads("", "when", "what", "how_much", "weigh_out", "beside")
    yield "prepare", made, _jobs(plan, words)
    poured = heads("", "day", "drink", "serves", "of_them_mixed", "to_tell")
    yield "pour", poured, _serves(plan, words)
    yield "ice_and_garnish", heads("", "day", "what", "how_much"), _beside(plan, words)
    *bought, cost = heads("", "what", "from", "how_much", "cost")
    yield "order", [*bought, f"{cost}{currency}"], _orders(plan, words)
    named = heads("what", "ready_on", "last", "how_much", "told")
    yield "labels", named, _labels(plan, bar, words)
    *left, worth, use = heads("what", "how_much", "last_day", "worth_of", "use")
    kept = [*left, f"{worth}{currency}", use]
    yield "will_spoil", kept, _endings(plan.endings, words)
    after = (*said.soon_over(plan), *said.left_open(plan))
    yield "left", kept, _endings(after, words)
    yield "stock_at_close", [*heads("what", "unit"), *dates], _stock(plan, words)


def _jobs(plan: Plan, words: Words) -> Rows:
    for job, notice in zip(plan.jobs, plan.told.jobs, strict=True):
        when = said.day_said(job.day, words)
        if job.start:
            when = words.say("plan", "by", moment=said.moment_said(job.start, words))
        weigh = str(said.weighed_said(job, words)) if job.weigh else ""
        beside = _row((*said.job_beside(job, words), *paper.wash_said(notice, words)))
        name = str(words.called(job.ingredient.name))
        yield BOX, when, name, str(said.job_said(job, words)), weigh, beside


def _row(phrases: Iterable[Phrase]) -> str:
    return "; ".join(map(str, phrases))


def _serves(plan: Plan, words: Words) -> Rows:
    told = {name: paper.drink_told(guest, words) for name, guest in plan.told.drinks}
    for evening in plan.evenings:
        for spec, count in evening.drinks:
            if count:
                mixed = evening.from_batch.get(spec.name) or None
                day = said.day_said(evening.day, words)
                yield BOX, day, spec.name, count, mixed, str(told[spec.name])
    for each in batches_said(plan, words):
        yield "", "", "", None, None, str(each)


def _beside(plan: Plan, words: Words) -> Rows:
    for evening in plan.evenings:
        day = said.day_said(evening.day, words)
        yield BOX, day, words.say("plan", "ice_alone"), said.ice_amount_said(evening, words)
        for garnish, count in evening.garnishes:
            yield BOX, day, str(garnish_words(garnish, words)), count


def _orders(plan: Plan, words: Words) -> Rows:
    for order in plan.orders:
        name, much = str(words.called(order.ingredient.name)), said.order_said(order, words)
        yield BOX, name, order.supply.supplier, much, order.cost
    for each in paper.assumed_said(plan, words):
        yield "", str(each)


def _labels(plan: Plan, bar: Bar, words: Words) -> Rows:
    """One line for each thing that is made, to print or to write on tape."""
    for job, label in zip(plan.jobs, paper.labels(plan, bar, words), strict=True):
        use_by = job.use_by and said.day_said(job.use_by, words)
        amount = said.amount_said(job.amount, job.ingredient, words)
        strength = paper.job_strength(job, words)
        told = " ".join(map(str, (*strength, *label.told, *label.foot)))
        ready = said.day_said(job.ready, words)
        yield str(label.name), ready, use_by or words.say("plan", "not_known"), amount, told


def _endings(endings: Iterable[Ending], words: Words) -> Rows:
    for ending in endings:
        name = str(words.called(ending.ingredient.name))
        amount = said.amount_said(ending.amount, ending.ingredient, words)
        day = said.day_said(ending.day, words)
        yield name, amount, day, ending.worth, said.specials_said(ending, words)


def _stock(plan: Plan, words: Words) -> Rows:
    for course in plan.courses:
        unit = words.table["unit"].get(course.ingredient.unit, course.ingredient.unit)
        yield str(words.called(course.ingredient.name)), unit, *course.amounts


def _fill(sheet: Worksheet, heads: Sequence[str], rows: Rows) -> None:
    from openpyxl.styles import Alignment, Font

    for line, row in enumerate((heads, *rows), start=1):
        for column, value in enumerate(row, start=1):
            cell = sheet.cell(line, column)
            if isinstance(value, str):
                cell.value = printable(value)
                cell.data_type = "s"  # or a text that begins with = were a formula
            elif value is not None:
                cell.value = round(value, DECIMALS)
            cell.alignment = Alignment(vertical="top", wrap_text=True)
            if line == 1:
                cell.font = Font(bold=True)
    for cells in sheet.columns:
        longest = max(len(str(cell.value or "")) for cell in cells)
        sheet.column_dimensions[cells[0].column_letter].width = min(_WIDEST, longest + _MARGIN)
    sheet.freeze_panes = "A2"
    sheet.print_title_rows = "1:1"
