"""A guest's answer."""

from __future__ import annotations

from solver.pantry.bar import Bar
from solver.show.documents.contract import document
from solver.show.documents.design import design_fields
from solver.tasks.check import Verdict


def check_json(verdict: Verdict, bar: Bar) -> str:
    """The document of one verdict."""
    return document("check", design_fields(verdict.found, bar))


def verdicts_json(verdicts: tuple[Verdict, ...], bar: Bar) -> str:
    """The document of many."""
    fields = [{"name": verdict.name, **design_fields(verdict.found, bar)} for verdict in verdicts]
    return document("check", {"verdicts": fields})
