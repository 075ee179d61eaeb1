"""What is there over the days of a plan, as a picture, with the days on which things spoil."""

from __future__ import annotations

from datetime import date

from solver.pantry.bar import Bar
from solver.show.pages.chart import PENS, Chart, Scale
from solver.show.text.plan_words import amount_said, day_said
from solver.show.words import Words
from solver.tasks.plan.answer import Course, Plan

_ML = 1000.0


def drawn(plan: Plan) -> tuple[Course, ...]:
    """The courses in the picture: what is prepared or spoils, as many as there are pens."""
    keys = [ending.ingredient.key for ending in plan.endings]
    keys += [job.ingredient.key for job in plan.jobs]
    keys += [ending.ingredient.key for ending in plan.later]
    courses = {course.ingredient.key: course for course in plan.courses}
    # What is set aside spoils, and no drink of the plan takes a course through it.
    return tuple(courses[key] for key in dict.fromkeys(keys) if key in courses)[: len(PENS)]


def plan_picture(plan: Plan, bar: Bar, words: Words) -> str | None:
    """Litres (or kilograms) at the start and at the end of each day; None where there is nothing.

    A ring is what spoils then.
    """
    courses = drawn(plan)
    if not courses:
        return None
    days = plan.question.nights.days
    highest = max(max(_whole(course)) for course in courses) / _ML
    names = tuple(_short_day(plan.question.day(day), words) for day in range(days + 1))
    x = Scale(words.say("plan", "days"), 0.0, float(days), whole=True, names=names)
    y = Scale(words.say("plan", "there"), 0.0, 1.1 * highest or 1.0)
    name = plan.question.coming.name or words.say("plan", "name")
    title = words.say("plan", "drawn", plan=name)
    chart = Chart(title, words.say("plan", "rings", bar=bar.name), x, y)
    chart.axes()
    for course, pen in zip(courses, PENS, strict=False):
        places: list[tuple[float, float] | None] = []
        for day, (start, end) in enumerate(_starts_and_ends(course)):
            places += [(float(day), start / _ML), (day + 0.98, end / _ML)]
        chart.line(places, pen)
        called = str(words.called(course.ingredient.name))
        chart.key_line(pen, called)
        for day, amount in course.spoiled:
            told = amount_said(amount, course.ingredient, words)
            spoils = day_said(plan.question.day(day), words)
            place = (day + 0.98, amount / _ML)
            chart.marker(place, words.say("plan", "spoils", amount=told, name=called, day=spoils))
    return chart.text()


def _short_day(day: date, words: Words) -> str:
    return words.say("plan", "short_day", weekday=words.weekday(day), day=day)


def _whole(course: Course) -> list[float]:
    return [start for start, _ in _starts_and_ends(course)] or [0.0]


def _starts_and_ends(course: Course) -> list[tuple[float, float]]:
    """What there is of a thing each day, once it is prepared, and before what spoils is gone."""
    spoiled = dict(course.spoiled)
    ends = [amount + spoiled.get(day, 0.0) for day, amount in enumerate(course.amounts)]
    return [(end + taken, end) for end, taken in zip(ends, course.taken, strict=True)]
