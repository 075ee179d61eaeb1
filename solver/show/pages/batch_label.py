"""The label of a batch, in the words of a language."""

from __future__ import annotations

from collections.abc import Iterator

from solver.pantry.bar import Bar
from solver.quantities import show_large, show_temperature
from solver.show.pages.card.garnish import garnish_words
from solver.show.pages.label import Label, caution_said, keep_cold_said, labels_html
from solver.show.text.batch_words import (
    bottle_drinks,
    bottle_ml,
    finish_words,
    garnish_text,
    liquid_celsius,
    said_serve,
)
from solver.show.text.pours import said_amount
from solver.show.words import Words
from solver.show.words.guest_words_on_paper import sentences, told_phrases
from solver.show.words.phrase import Phrase, in_a_row
from solver.tasks.batch import Batch
from solver.tasks.batch.left_out import Wait

MOST_LABELS = 200
_LAST = {Wait.TOP: "top", Wait.BUBBLES: "top", Wait.FLOAT: "float"}
"""How what is added after the ice is poured."""


def batch_labels(batch: Batch, bar: Bar, words: Words) -> str:
    """A label for every bottle, on one page."""
    count = min(batch.vessels.count, MOST_LABELS)
    title = f"{batch.found.spec.name}: {words.count(count, 'label')}"
    return labels_html([batch_label(batch, bar, words)] * count, title, words)


def batch_label(batch: Batch, bar: Bar, words: Words) -> Label:
    """The label of each of its bottles."""
    made, use_by = words.day(batch.made), words.day(batch.kept.use_by)
    dates = words.phrase("label", "dates", made=made, use_by=use_by)
    return Label(
        name=Phrase.of(batch.found.spec.name),
        head=(dates, _contents(batch, bar, words), _drinks(batch, words)),
        told=tuple(_told(batch, words)),
        foot=(
            _keep(batch, bar, words),
            *_serve(batch, bar, words),
            words.phrase("label", "defers"),
        ),
    )


def _contents(batch: Batch, bar: Bar, words: Words) -> Phrase:
    ml = bottle_ml(batch)
    return words.phrase(
        "label", "contents",
        abv=words.number(float(batch.bottle.abv_pct), 1),
        volume=words.amount(show_large(ml, "ml")),
        serves=words.count(int(ml / batch.serve_ml + 1e-6), "serve"),
        serve=said_serve(batch, bar, words),
    )  # fmt: skip


def _drinks(batch: Batch, words: Words) -> Phrase:
    guest = batch.found.guest
    return words.phrase(
        "label", "drinks",
        place=words.called(guest.jurisdiction, "place"),
        grams=words.amount(f"{guest.standard_drink.g:g} g"),
        serve=words.number(guest.standard_drinks, 1),
        whole=words.number(bottle_drinks(batch), 1),
    )  # fmt: skip


def _told(batch: Batch, words: Words) -> Iterator[Phrase]:
    """What is in the bottle, what the finished drink has beside that, and every caution."""
    inside = told_phrases(batch.told, words)
    whole = told_phrases(batch.found.guest.told, words)
    if batch.left_out and whole != inside:
        yield sentences(inside, words.phrase("label", "in_here"))
        yield sentences(whole, words.phrase("label", "finished"))
    else:
        yield sentences(whole)
    for caution in batch.found.guest.cautions:
        yield caution_said(caution, words)


def _keep(batch: Batch, bar: Bar, words: Words) -> Phrase:
    celsius = None if batch.cold is None else liquid_celsius(batch.cold)
    if celsius is None:
        return keep_cold_said(bar, words, "keep_cold_freezes" if batch.cold else "keep_cold")
    said = show_temperature(celsius, fahrenheit=bar.fahrenheit)
    return words.phrase("label", "keep_at", temperature=words.amount(said))


def _serve(batch: Batch, bar: Bar, words: Words) -> Iterator[Phrase]:
    added: dict[str, list[Phrase]] = {}
    for left in batch.left_out:
        amount = words.amount(said_amount(left.line, bar))
        said = Phrase.of(f"{amount} ") + words.called(left.line.ingredient.name)
        added.setdefault(_LAST.get(left.why, ""), []).append(said)
    pours = in_a_row([Phrase.of(said_serve(batch, bar, words)), *added.pop("", [])], " + ", " + ")
    yield words.phrase("label", "serve", pours=pours, finish=finish_words(batch, words))
    for act in sorted(added, reverse=True):  # what is floated comes last
        yield words.phrase("act", act, items=words.row(added[act]))
    if garnish := garnish_text(batch):
        yield words.phrase("act", "garnish", garnish=garnish_words(garnish, words))
