"""A plan as a workbook: what to prepare, pour and order, to tick off; labels; stock by day."""

from __future__ import annotations

import io
from collections.abc import Iterator, Sequence
from typing import TYPE_CHECKING

from solver.pantry.bar import Bar
from solver.printable import printable
from solver.show.guest import DEFERS
from solver.show.plan import words
from solver.show.plan.told import drink_lines, job_told, wash_said
from solver.show.table import DECIMALS, Cell
from solver.tasks.plan.answer import Plan

if TYPE_CHECKING:
    from openpyxl.worksheet.worksheet import Worksheet

Rows = Iterator[Sequence[Cell]]
BOX = "☐"
_WIDEST, _MARGIN = 60, 2
"""How wide a column gets, in letters, and what it has beside its longest text."""


def plan_workbook(plan: Plan, bar: Bar) -> bytes:
    """A workbook of one sheet for each list; nothing in it is a formula.

    Raises:
        ImportError: openpyxl is not installed.
    """
    import openpyxl

    book = openpyxl.Workbook()
    book.remove(book.active)
    currency = f", {bar.currency}" if bar.currency else ""
    dates = [str(plan.question.day(day)) for day in range(plan.question.nights.days)]
    sheets: tuple[tuple[str, Sequence[str], Rows], ...] = (
        ("Prepare", ("", "when", "what", "how much", "weigh out", "beside"), _jobs(plan)),
        (
            "Pour",
            ("", "day", "drink", "serves", "of them from the batch", "tell guests"),
            _serves(plan),
        ),
        ("Ice and garnish", ("", "day", "what", "how much"), _beside(plan)),
        ("Order", ("", "what", "from", "how much", f"cost{currency}"), _orders(plan)),
        (
            "Labels",
            ("what", "ready", "use by", "how much", "to be told"),
            _labels(plan),
        ),
        ("Will spoil", ("what", "how much", "last day", f"worth{currency}", "use"), _endings(plan)),
        ("Stock at close", ("what", "unit", *dates), _stock(plan)),
    )
    for title, heads, rows in sheets:
        _fill(book.create_sheet(title), heads, rows)
    out = io.BytesIO()
    book.save(out)
    return out.getvalue()


def _jobs(plan: Plan) -> Rows:
    for job, notice in zip(plan.jobs, plan.told.jobs, strict=True):
        when = words.moment_said(job.start) if job.start else words.day_said(job.day)
        weigh = words.weighed_said(job) if job.weigh else ""
        beside = "; ".join((*words.job_beside(job), *wash_said(notice)))
        yield BOX, when, job.ingredient.name, words.job_said(job), weigh, beside


def _serves(plan: Plan) -> Rows:
    told = {name: "; ".join(drink_lines(guest)) for name, guest in plan.told.drinks}
    for evening in plan.evenings:
        for spec, count in evening.drinks:
            if count:
                mixed = evening.from_batch.get(spec.name) or None
                day = words.day_said(evening.day)
                yield BOX, day, spec.name, count, mixed, told[spec.name]


def _beside(plan: Plan) -> Rows:
    for evening in plan.evenings:
        day = words.day_said(evening.day)
        yield BOX, day, "ice", f"{words.ice_said(evening).removeprefix('ice ')}"
        for garnish, count in evening.garnishes:
            yield BOX, day, garnish, count


def _orders(plan: Plan) -> Rows:
    for order in plan.orders:
        said = words.order_said(order)
        yield BOX, order.ingredient.name, order.supply.supplier, said, order.cost


def _labels(plan: Plan) -> Rows:
    """One line for each thing that is made, to print or to write on tape."""
    for job, notice in zip(plan.jobs, plan.told.jobs, strict=True):
        told = "; ".join((*job_told(notice), DEFERS))
        use_by = "not known" if job.use_by is None else words.day_said(job.use_by)
        amount = words.amount_said(job.amount, job.ingredient)
        yield job.ingredient.name, words.day_said(job.ready), use_by, amount, told


def _endings(plan: Plan) -> Rows:
    for ending in plan.endings:
        amount = words.amount_said(ending.amount, ending.ingredient)
        day = words.day_said(ending.day)
        yield ending.ingredient.name, amount, day, ending.worth, words.specials_said(ending)


def _stock(plan: Plan) -> Rows:
    for course in plan.courses:
        yield course.ingredient.name, course.ingredient.unit, *course.amounts


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
