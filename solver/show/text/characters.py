"""How loudly the characters of a drink speak, and what a bar's words asked of it."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace

from solver.drinks.answer import Answer
from solver.drinks.loudness import Carrier, Loudness
from solver.pantry.bar import Bar
from solver.requests.character_amounts import not_said
from solver.requests.word_meanings import SaidWord
from solver.search.problem import Limit
from solver.show.text.limits import span_words
from solver.show.text.pours import said_amount, said_volume
from solver.show.text.target import ends
from solver.show.words.names_in_a_row import listed

JIGGER_ML = 5.0
"""From here on a usual pour is measured with a jigger."""


def character_lines(answer: Answer, limits: Iterable[Limit], bar: Bar) -> list[str]:
    """A line for each character that was asked about, and of what nobody knows what it tastes."""
    kept = tuple(limits)
    lines = [_line(each, answer, kept, bar) for each in answer.loud if _heard(each, kept)]
    silent = not_said(answer.ingredients, bar) if answer.loud else ()
    if silent:
        lines.append(
            f"What {listed(item.name for item in silent)} tastes of is not said in house/, and "
            "counts as nothing here."
        )
    return lines


def _heard(loud: Loudness, limits: Iterable[Limit]) -> bool:
    """Whether a character is to be said: that there is none is, where there might be some."""
    barred = any(limit.high == 0 for limit in limits if limit.measure == loud.character)
    return bool(loud.carriers) or not barred


def _line(loud: Loudness, answer: Answer, limits: Iterable[Limit], bar: Bar) -> str:
    """ "Smoke: 1 usual pour (asked 0.5..1), by 1/2 oz mezcal (usually 1/2 oz)." """
    measure = loud.character
    own = [limit for limit in limits if limit.measure == measure]
    low = max((limit.low for limit in own if limit.low), default=None)
    high = min((limit.high for limit in own if limit.high is not None), default=None)
    asked = [] if low is None and high is None else [span_words(measure, low, high)]
    asked += [span_words(measure, *ends(aim)) for aim in answer.aims if aim.measure == measure]
    name = f"{measure.label[:1].upper()}{measure.label[1:]}"
    said = measure.amount(round(loud.usual_pours, measure.decimals)) if loud.carriers else "none"
    by = "; ".join(_carried(each, bar) for each in loud.carriers)
    return f"{name}: {said} (asked {' and '.join(asked)}){f', by {by}' if by else ''}."


def _carried(carrier: Carrier, bar: Bar) -> str:
    """ "1/4 oz mezcal (usually 1/2 oz)" """
    pour, usual = carrier.pour, carrier.usual
    if pour.ingredient.per == "ml" and usual >= JIGGER_ML:
        step = bar.measures.ounce_ml / 4 if bar.show == "oz" else 1.0
        said = said_volume(max(1, round(usual / step)) * step, bar)
    else:
        said = said_amount(replace(pour, amount=usual, written=None), bar)
    return f"{said_amount(pour, bar)} {pour.ingredient.name} (usually {said})"


def word_lines(words: Iterable[SaidWord]) -> list[str]:
    """What each of the bar's words asked, in a line."""
    return [f"{each.name}: {_asked(each)}." for each in words]


def _asked(word: SaidWord) -> str:
    left = f"nothing of {listed(word.without_band)}, at which its profile does not aim"
    return "; ".join([*word.asks, *([left] if word.without_band else [])])
