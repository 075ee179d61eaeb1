"""A plan on a page: to tick off, order by and cut labels from, with a picture of the stock."""

from __future__ import annotations

from functools import cache
from pathlib import Path
from typing import TYPE_CHECKING

from solver.pantry.bar import Bar
from solver.show.pages.card.garnish import garnish_words
from solver.show.pages.label import HERE as SHOW
from solver.show.pages.label import LABEL_CSS
from solver.show.pages.paper import style
from solver.show.pages.plan import paper
from solver.show.pages.plan.picture import plan_picture
from solver.show.text import plan_words as said
from solver.show.text.set_aside import batches_said
from solver.show.words import Words
from solver.tasks.plan.answer import Plan

if TYPE_CHECKING:
    from jinja2 import Template

HERE = Path(__file__).parent


def plan_page(plan: Plan, bar: Bar, words: Words) -> str:
    """One self-contained HTML file: no script, no font, no picture from anywhere else."""
    from markupsafe import Markup

    picture = plan_picture(plan, bar, words)
    svg = picture.split("-->", 1)[1] if picture else ""
    return _template().render(
        plan=plan,
        bar=bar,
        title=plan.question.coming.name or words.say("plan", "name"),
        words=words,
        w=words.table["plan"],
        said=said,
        paper=paper,
        batches=batches_said(plan, words),
        garnish_words=garnish_words,
        jobs_told=[
            [*paper.wash_said(each, words), *paper.job_told(each, words)] for each in plan.told.jobs
        ],
        style=style(HERE / "plan.css", LABEL_CSS),
        picture=Markup(svg),  # noqa: S704 - drawn by ours, which escapes every text in it
    )


@cache
def _template() -> Template:
    from jinja2 import Environment, FileSystemLoader, StrictUndefined

    loader = FileSystemLoader([HERE, SHOW])
    jinja = Environment(loader=loader, autoescape=True, undefined=StrictUndefined)
    return jinja.get_template("plan.html.jinja")
