"""Read a recipe from plain lines: one for each input, and one for each step.

"800 g honey", "3 sticks cinnamon", "2 cups of sugar" and "a pinch of salt" are inputs; "simmer 20
min", "steep overnight", "strain through cloth", "cool", "add 500 g sugar" and "fortify 60 ml vodka"
are steps, in their order.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass

from solver.errors import BadInput
from solver.files.checked import gather
from solver.pantry.bar import Bar
from solver.pantry.word_forms import words
from solver.printable import printable, short
from solver.quantities import (
    parse,
    parse_span,
)
from solver.tasks.prep.german_steps import in_english
from solver.tasks.prep.said_amounts import STEPS, GoesIn, goes_in, is_amount, longest_match

_VERBS = {
    "simmer": "simmer", "boil": "simmer", "cook": "simmer", "reduce": "simmer",
    "steep": "steep", "infuse": "steep", "macerate": "steep", "soak": "steep", "rest": "steep",
    "strain": "strain", "sieve": "strain", "filter": "fine-filter", "fine-filter": "fine-filter",
    "cool": "cool", "chill": "cool", "add": "add", "fortify": "fortify",
}  # fmt: skip
"""What is done, by the words for it: common usage."""
_NO_WEIGHT = frozenset({
    "stir", "mix", "blend", "shake", "whisk", "dissolve", "heat", "warm", "muddle", "crush",
    "chop", "peel", "slice", "grate", "toast", "bottle", "label", "store", "combine", "bring",
})  # fmt: skip
"""What is done and changes neither weight nor strength."""
_THROUGH = {
    "sieve": "sieve", "strainer": "sieve", "chinois": "sieve",
    "cloth": "cloth", "cheesecloth": "cloth", "muslin": "cloth", "bag": "cloth", "towel": "cloth",
    "paper": "paper", "filter": "paper",
}  # fmt: skip
_TIMES = {
    "overnight": "12 h", "over night": "12 h", "half an hour": "30 min", "an hour": "1 h",
    "a day": "1 day",
}  # fmt: skip
"""Times without a number; how long a night is, is our own choice."""
_BEFORE = re.compile(r"(?:then|and|let|it|leave to)\s+|(?:fine|double)[\s-](?=strain)", re.I)


@dataclass(frozen=True)
class StepDone:
    """A step: its keys in a recipe, and their texts."""

    step: dict[str, str]


@dataclass(frozen=True)
class Remark:
    """A step that changes neither weight nor strength, as written."""

    text: str


SaidLine = GoesIn | StepDone | Remark


def read_lines(lines: Sequence[str], bar: Bar) -> tuple[SaidLine, ...]:
    """Read the lines of a recipe.

    Raises:
        BadInput, BadInputs: each line that cannot be read.
    """
    found: list[SaidLine] = []
    mistakes: list[BadInput] = []
    for line in lines:
        try:
            found.append(read_line(line, bar))
        except BadInput as error:
            mistakes.append(error)
    gather(mistakes)
    return tuple(found)


def read_line(line: str, bar: Bar) -> SaidLine:
    """Read one line of a recipe.

    Raises:
        BadInput: it cannot be read, or something in it is not known.
    """
    said = in_english(" ".join(line.split()))
    while match := _BEFORE.match(said):
        said = said[match.end() :]
    verb, _, rest = said.partition(" ")
    verb = verb.casefold().rstrip(",:")
    done = _VERBS.get(verb)
    if done is None and verb in _NO_WEIGHT:
        return Remark(printable(said))
    return goes_in(said, bar) if done is None else StepDone(_step(done, rest, line, bar))


def with_name(line: str, name: str, bar: Bar) -> str:
    """The line with another name in place of an unknown one."""
    split = line.split()
    verb = [word for word in split[:1] if _VERBS.get(word.casefold()) in ("add", "fortify")]
    rest = split[len(verb) :]
    amount = rest[: longest_match(rest, lambda text: is_amount(text, bar)) or 1]
    return " ".join([*verb, *amount, name])


def _step(do: str, rest: str, line: str, bar: Bar) -> dict[str, str]:
    """The keys of a step; `rest` is its line after the verb."""
    if do in ("add", "fortify"):
        put = goes_in(rest.removeprefix("with "), bar)
        return {"do": do, "ingredient": put.ingredient, "amount": put.amount}
    if do in ("strain", "fine-filter"):
        return _strained(do, rest, line, bar)
    if do == "cool":
        return {"do": do}
    said = re.sub(r"^(?:for|about)\s+", "", rest)
    time, _, lost = (part.strip() for part in said.partition(" lost "))
    time = _time(_TIMES.get(time.casefold(), time), bar)
    if not time and do == "simmer":
        what = f"'{short(line)}' does not say how long"
        raise BadInput(what, remedy="Write it like 'simmer 20 min'.")
    step = {"do": do, "time": time} if time else {"do": do}
    if lost and do == "simmer":
        parse(lost, "mass", bar.measures)
        step["lost"] = lost
    elif lost:
        raise _not_said(f"lost {lost}", line)
    return step


def _time(text: str, bar: Bar) -> str:
    """A time in the notation of recipes: of "10 to 15 min" the middle."""
    if not text:
        return ""
    span = parse_span(text, "time", bar.measures)
    if span.low is None or span.high is None:
        parse(text, "time", bar.measures)  # which says what is wrong with an open end
        return text
    return f"{(span.low + span.high) / 2:g} min"


def _strained(do: str, rest: str, line: str, bar: Bar) -> dict[str, str]:
    """The keys of a straining step: through a sieve unless stated otherwise."""
    how, _, left = (part.strip() for part in f" {rest}".partition(" left "))
    named = [_THROUGH[word] for word in words(how) if word in _THROUGH]
    other = set(words(how)) - set(_THROUGH) - {"through", "a", "coffee", "nut", "milk", "fine"}
    if other:
        raise _not_said(how, line)
    step = {"do": do}
    if do == "strain" or (named and named[0] != "paper"):
        step = {"do": "strain", "through": named[0] if named else "sieve"}
    if left:
        parse(left, "mass", bar.measures)
        step["left"] = left
    return step


def _not_said(rest: str, line: str) -> BadInput:
    what = f"'{short(rest)}' in '{short(line)}' says nothing known here"
    return BadInput(what, remedy=f"What can be done: {STEPS}.")
