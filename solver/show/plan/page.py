"""A plan on a page: to tick off, with what to order, and a picture of what is there when."""

from __future__ import annotations

from functools import cache
from pathlib import Path
from typing import TYPE_CHECKING

from solver.pantry.bar import Bar
from solver.show.guest import DEFERS
from solver.show.paper import style
from solver.show.plan import words
from solver.show.plan.picture import plan_picture
from solver.show.plan.told import drinks_cautions, drinks_told, job_told, wash_said
from solver.tasks.plan.answer import Plan

if TYPE_CHECKING:
    from jinja2 import Template

HERE = Path(__file__).parent


def plan_page(plan: Plan, bar: Bar) -> str:
    """One self-contained HTML file: no script, no font, no picture from anywhere else."""
    from markupsafe import Markup

    picture = plan_picture(plan, bar)
    svg = picture.split("-->", 1)[1] if picture else ""
    return _template().render(
        plan=plan,
        bar=bar,
        words=words,
        drinks_told=drinks_told(plan),
        drinks_cautions=drinks_cautions(plan),
        jobs_told=[[*wash_said(each), *job_told(each)] for each in plan.told.jobs],
        defers=DEFERS,
        style=style(HERE / "plan.css"),
        picture=Markup(svg),  # noqa: S704 - drawn by ours, which escapes every text in it
    )


@cache
def _template() -> Template:
    from jinja2 import Environment, FileSystemLoader, StrictUndefined

    jinja = Environment(loader=FileSystemLoader(HERE), autoescape=True, undefined=StrictUndefined)
    return jinja.get_template("plan.html.jinja")
