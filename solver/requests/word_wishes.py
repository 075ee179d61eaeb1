"""A bar's words as wishes: ranges of characters and measures, some in relation to the profile."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from solver.errors import BadInput
from solver.files.checked import FileReading
from solver.files.near_words import near_words
from solver.measures import MEASURES, Measure
from solver.pantry.bar import Bar
from solver.pantry.bar_words import HALVES, Stated
from solver.pantry.library import slug
from solver.printable import short
from solver.quantities import Span, is_mass, parse_span
from solver.requests.read_character import read_character


@dataclass(frozen=True)
class MeasureRange:
    """A range that a word asks of a measure, in its unit."""

    measure: Measure
    span: Span


@dataclass(frozen=True)
class BandHalf:
    """A half of a profile's own band of a measure: the upper one, or where `sign` is negative the
    lower one."""

    measure: Measure
    sign: float

    def of(self, band: tuple[float, float]) -> Span:
        """The half of a band."""
        middle = sum(band) / 2
        return Span(low=middle) if self.sign > 0 else Span(high=middle)


@dataclass(frozen=True)
class WordWish:
    """What a word of the bar asks for."""

    name: str
    ranges: tuple[MeasureRange, ...]
    halves: tuple[BandHalf, ...] = ()


def read_words(names: Sequence[str], bar: Bar) -> tuple[WordWish, ...]:
    """The wishes of some words.

    Raises:
        BadInput, BadInputs: one is not known, or what it stands for can't be read; with its line.
    """
    stated = bar.words if names else {}
    for name in names:
        if slug(name) not in stated:
            near = near_words(slug(name), stated)
            known = f"Known: {', '.join(stated)}." if not near else ""
            remedy = f"{known} A word of your own: equipour help words.toml.".strip()
            raise BadInput(f"'{short(name)}' is not a word known here", near=near, remedy=remedy)
    return tuple(_read(stated[key], bar) for key in dict.fromkeys(map(slug, names)))


def _read(stated: Stated, bar: Bar) -> WordWish:
    word, reading = stated.word, FileReading(stated.file)
    ranges = [
        reading.take([word.key, "character"], None, _character, text) for text in word.character
    ]
    halves: list[BandHalf] = []
    for name, text in word.measures.items():
        sign = HALVES.get(" ".join(text.casefold().split()))
        if sign is None:
            ranges.append(reading.take([word.key, name], None, _range, name, text, bar))
        else:
            halves.append(BandHalf(MEASURES[name], sign))
    reading.finish()
    return WordWish(word.key, tuple(each for each in ranges if each), tuple(halves))


def _character(text: str) -> MeasureRange:
    measure, span = read_character(text)
    if span is None:
        what = f"'{short(text)}' does not say how loud"
        remedy = f"Write it like '{short(text)} >=1'."
        raise BadInput(what, remedy=remedy)
    return MeasureRange(measure, _no_aim(span, text))


def _range(name: str, text: str, bar: Bar) -> MeasureRange:
    if not any(map(str.isnumeric, text)):
        what = f"'{short(text)}' is neither a range nor a half of what the profile aims at"
        raise BadInput(
            what, near=near_words(text, HALVES), remedy=f"Write {' or '.join(HALVES)}, or a range."
        )
    measure = measure_meant(name, text)
    span = parse_span(text, measure.quantity, bar.measures, currency=bar.currency)
    return MeasureRange(measure, _no_aim(span, text))


def measure_meant(name: str, text: str) -> Measure:
    """The measure that a range or value is of; sugar in grams is that of the whole drink."""
    return MEASURES["sugar_total" if name == "sugar" and is_mass(text) else name]


def _no_aim(span: Span, text: str) -> Span:
    if span.aim is not None:
        what = f"'{short(text)}' is one value, and a word stands for ranges"
        raise BadInput(what, remedy=f"Write '<={short(text)}', '>={short(text)}' or both ends.")
    return span
