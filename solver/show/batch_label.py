"""The label of a batch: as text, and as a sheet to print and cut, one label for each bottle."""

from __future__ import annotations

from collections.abc import Iterator
from html import escape
from pathlib import Path

from solver.pantry.bar import Bar
from solver.quantities import show_count, show_large, show_temperature
from solver.show.batch_words import (
    bottle_drinks,
    bottle_ml,
    finish_words,
    garnish_line,
    liquid_celsius,
    said_serve,
)
from solver.show.guest import DEFERS, caution_lines, told_words
from solver.show.paper import style
from solver.show.pours import said_amount
from solver.tasks.batch import Batch

MOST_LABELS = 200
_STYLE = Path(__file__).parent / "batch_label.css"
_META = """\
<meta name="viewport" content="width=device-width, initial-scale=1">
<meta http-equiv="Content-Security-Policy" content="default-src 'none'; style-src 'unsafe-inline'">
<meta name="color-scheme" content="light dark">"""


def label_text(batch: Batch, bar: Bar) -> str:
    """One label."""
    return "\n".join([batch.found.spec.name, *label_lines(batch, bar)])


def labels_html(batch: Batch, bar: Bar) -> str:
    """A label for every bottle, on one page that needs nothing from anywhere else."""
    name = escape(batch.found.spec.name)
    lines = "".join(f"<p>{escape(line)}</p>" for line in label_lines(batch, bar))
    label = f"<section><h2>{name}</h2>{lines}</section>\n"
    count = min(batch.vessels.count, MOST_LABELS)
    return (
        f'<!DOCTYPE html>\n<html lang="en">\n<head>\n<meta charset="utf-8">\n{_META}\n'
        f"<title>{name}</title>\n<style>{style(_STYLE)}</style>\n</head>\n<body><main>\n"
        f"<h1>{name}: {show_count(count, 'label')}</h1>\n"
        f'<div class="labels">\n{label * count}</div>\n</main></body>\n</html>\n'
    )


_FRIDGE_CELSIUS = 5.0
"""At most: FDA Food Code, 3-501.16, 41 °F."""


def label_lines(batch: Batch, bar: Bar) -> list[str]:
    """Everything on a label below the name."""
    return [
        f"Made {batch.made}. Use by {batch.kept.use_by}.",
        f"{float(batch.bottle.abv_pct):.1f} % vol, {_contents(batch, bar)}.",
        _drinks(batch),
        *_told(batch),
        _keep(batch, bar),
        *_serve(batch, bar),
        DEFERS,
    ]


def _contents(batch: Batch, bar: Bar) -> str:
    ml = bottle_ml(batch)
    count = int(ml / batch.serve_ml + 1e-6)
    return f"{show_large(ml, 'ml')}: {show_count(count, 'serve')} of {said_serve(batch, bar)}"


def _drinks(batch: Batch) -> str:
    guest = batch.found.guest
    return (
        f"Standard drinks ({guest.jurisdiction}, {guest.standard_drink.g:g} g): "
        f"{guest.standard_drinks:.1f} a serve, {bottle_drinks(batch):.1f} in here."
    )


def _told(batch: Batch) -> Iterator[str]:
    """What is in the bottle, what the finished drink has beside that, and every caution."""
    words = "; ".join(told_words(batch.told))
    yield f"In here: {words or 'no allergens stated'}."
    whole = "; ".join(told_words(batch.found.guest.told))
    if batch.left_out and whole != words:
        yield f"Finished: {whole or 'no allergens stated'}."
    yield from caution_lines(batch.found.guest)


def _keep(batch: Batch, bar: Bar) -> str:
    celsius = None if batch.cold is None else liquid_celsius(batch.cold)
    if celsius is not None:
        return f"Keep at {show_temperature(celsius, fahrenheit=bar.fahrenheit)}."
    at = show_temperature(_FRIDGE_CELSIUS, fahrenheit=bar.fahrenheit)
    return f"Keep closed, at {at} or below{'; it freezes' if batch.cold else ''}."


def _serve(batch: Batch, bar: Bar) -> Iterator[str]:
    lines = [left.line for left in batch.left_out]
    added = [f"{said_amount(line, bar)} {line.ingredient.name}" for line in lines]
    pours = " + ".join([said_serve(batch, bar), *added])
    yield f"A serve: {pours}. {finish_words(batch)}"
    yield from garnish_line(batch)
