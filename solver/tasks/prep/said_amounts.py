"""Read an input of a recipe from plain words: "3 sticks cinnamon", "a pinch of salt".

Name and amount may come in either order, with filler words. What is counted is converted by the
weight of a piece.
"""

from __future__ import annotations

import contextlib
import re
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, replace

from solver.errors import BadInput
from solver.pantry.bar import Bar
from solver.pantry.fruit import fruit_by_juice
from solver.pantry.ingredient import Ingredient
from solver.pantry.other_words import in_english
from solver.pantry.pieces import WHOLE
from solver.pantry.recipe_inputs import house_key
from solver.pantry.stocked_as import stocked_as
from solver.pantry.word_forms import words
from solver.printable import short
from solver.quantities import (
    in_digits,
    parse_number,
    parse_pour,
    say_pieces,
    split_count,
)
from solver.quantities.units import find_unit
from solver.tasks.prep.inputs import put_in

EXAMPLES = '"1 L water", "3 sticks cinnamon", "simmer 20 min", "strain cloth"'
STEPS = (
    "simmer 20 min, steep 1 h, strain (sieve, cloth or paper), fine-filter, cool, add 500 g sugar, "
    "fortify 60 ml vodka"
)

ZEST_G = {"lemon-peel": 6.0, "lime-peel": 3.0, "orange-peel": 9.0, "grapefruit-peel": 12.0}
"""Grams of the grated zest of one fruit, a tablespoon of a lemon's: common practice, no source."""
_OF_FRUIT = re.compile(r"(?P<what>juice|zest|peel) of (?P<fruit>.+)", re.I)
_BOTTLES = re.compile(
    r"(?P<number>[0-9./ ]+?) (?P<vessel>bottle|jar|can|tin|carton|pack|packet|bag|box)(?:e?s)? "
    r"(?:of )?(?P<name>.+)",
    re.IGNORECASE,
)
_RANGE = re.compile(
    r"\s*[0-9][0-9.,/]*\s*(?:-|–|\bto\b|\bor\b|\bbis\b|\boder\b)\s*(?P<last>[0-9]+(?:[.,][0-9]+)?)"
    r"(?![0-9.,]*/)",
    re.IGNORECASE,
)
"""Two numbers where one belongs; 1-1/2 is one and a half."""
_HANDFUL = re.compile(
    r"\s*(?:\S+\s+)??(?:small |large |big |good )?(?:handfuls?|hand\s?voll)\s+(?:of\s+)?"
    r"(?P<name>.+)",
    re.IGNORECASE,
)
_LEAVES = re.compile(
    r"leaves|mint|basil|sage|thyme|rosemary|coriander|parsley|dill|tarragon|herb|blätter",
    re.IGNORECASE,
)
"""What is light by the handful: 10 g of leaves, 30 g of nuts; common practice, no source."""
_FRESH = re.compile(r"\b(?:fresh|freshly|frische?[nrs]?)\b", re.IGNORECASE)
_DRY = re.compile(r"\b(?:dry|dried)\b")
_BESIDE = frozenset({
    "a", "of", "the", "fresh", "freshly", "hot", "cold", "boiling", "warm", "filtered", "large",
    "small", "whole", "sliced", "chopped", "crushed", "grated", "peeled", "ripe", "organic",
    "cracked", "squeezed", "pressed", "good",
})  # fmt: skip
"""Words beside the name of a thing that change nothing of what it holds."""
_PREPARED = _BESIDE | {
    "and", "sifted", "diced", "halved", "quartered", "finely", "roughly", "thinly", "coarsely",
    "torn", "bruised", "washed", "rinsed", "cut", "into", "in", "pieces",
}  # fmt: skip
"""Words behind a comma that change nothing either: that they were not read is not told."""


@dataclass(frozen=True)
class GoesIn:
    """An input: its key, and its amount in the notation of recipes.

    `assumed` says how the amount was found, if that was a guess.
    """

    ingredient: str
    amount: str
    assumed: str = ""


def goes_in(line: str, bar: Bar) -> GoesIn:
    """Read an input from a line that begins or ends with its amount."""
    said = _with_numbers(re.sub(r"\([^)]*\)", " ", line))
    _refuse_loose(line)
    if (taken := _of_fruit(said, bar) or _of_bottles(said, bar)) is not None:
        return taken
    shorter, _, behind = said.partition(",") if re.search(r",\s", said) else (said, "", "")
    refused: BadInput | None = None
    for text in dict.fromkeys((said, shorter)):
        left = [*re.findall(r"\(([^)]*)\)", line), *([] if text == said else [behind])]
        for amount, item in _meant(text, bar):
            try:
                return _told(_checked(amount, item, bar), left, text, item)
            except BadInput as error:
                refused = refused or error
    raise refused or _mistake(shorter, bar)


def _told(put: GoesIn, left: Sequence[str], text: str, item: Ingredient | str) -> GoesIn:
    """The input with what of its line was not read, and what is fresh and counts as dry."""
    untold = (each.strip() for each in left if not _PREPARED.issuperset(words(each)))
    said = [f"'{short(each)}' was not read" for each in untold if each]
    if not isinstance(item, str) and _FRESH.search(text) and _DRY.search(item.name):
        said.append(f"fresh was taken as {item.name}")
    return replace(put, assumed="; ".join(filter(None, [put.assumed, *said])))


def _refuse_loose(line: str) -> None:
    """Refuse a line whose amount is a range, or a handful.

    Raises:
        BadInput: it is.
    """
    if found := _RANGE.match(line):
        what = f"'{short(line)}' says a range, which is no amount"
        rest = short(line[found.end() :].strip())
        remedy = f"Write one of them, like '{found['last']} {rest}'."
        raise BadInput(what, remedy=remedy)
    if found := _HANDFUL.match(line):
        name = short(found["name"])
        herb = _LEAVES.search(name) is not None
        remedy = (
            f"Weigh it: write it like '{10 if herb else 30} g {name}', which is about a handful of"
            f" {'leaves' if herb else 'nuts or berries'}."
        )
        raise BadInput(f"'{short(line)}' is no weight", remedy=remedy)


def _of_fruit(line: str, bar: Bar) -> GoesIn | None:
    """The input of "juice of 3 limes" or "zest of 2 lemons"; None for any other line."""
    match = _OF_FRUIT.fullmatch(line)
    counted = None if match is None else split_count(in_digits(match["fruit"]))
    juice = None if counted is None else bar.bottles.get(f"{_one(counted[1])} juice")
    fruit = None if juice is None else fruit_by_juice(bar.library).get(juice.key)
    if match is None or counted is None or juice is None or fruit is None:
        return None
    number = parse_number(counted[0])
    if match["what"].casefold() == "juice":
        said = f"{number * fruit.juice.value:.0f} ml"
        assumed = f"{line} was taken as {said} ({fruit.juice.source}): measure it"
        return GoesIn(juice.key, said, assumed)
    peel = f"{_one(counted[1])}-peel".replace(" ", "-")
    if peel not in ZEST_G:
        return None
    said = f"{number * ZEST_G[peel]:.0f} g"
    return GoesIn(peel, said, f"{line} was taken as {said} (common practice): weigh it")


def _one(fruit: str) -> str:
    return " ".join(words(fruit))


def _of_bottles(line: str, bar: Bar) -> GoesIn | None:
    """The input of a number of bottles, by their size on the shelf; None for any other line.

    Raises:
        BadInput: the shelf does not say how large they are.
    """
    match = _BOTTLES.fullmatch(line)
    item = None if match is None else bar.bottles.get(match["name"])
    if match is None or item is None:
        return None
    row = bar.stocked(item.key)
    if row is None or row.bottle is None:
        what = f"how large a {match['vessel']} of {item.name} is, the shelf does not say"
        raise BadInput(what, remedy=f"Write it like '700 {item.per} {item.name}'.")
    return GoesIn(item.key, f"{parse_number(match['number']) * row.bottle:g} {item.per}")


def _with_numbers(line: str) -> str:
    """A line with a number in place of a leading number word or unit."""
    whole = in_digits(line)
    first, _, rest = whole.partition(" ")
    return f"1 {whole}" if rest and find_unit(first) is not None else whole


def _meant(line: str, bar: Bar) -> Iterator[tuple[str, Ingredient | str]]:
    """Yield the ways to split a line into an amount and a name, the likeliest first.

    A house ingredient that is in no bottle yet is given by its key.
    """
    split = line.split()
    for cut in range(1, len(split)):
        amount, name = " ".join(split[:cut]), split[cut:]
        if is_amount(amount, bar) and (item := _known(name, amount, bar)) is not None:
            yield amount, item
    if (counted := _counted(line, bar)) is not None:
        yield counted
    for cut in range(1, len(split)):
        amount, name = " ".join(split[cut:]), split[:cut]
        item = _known([*name[:-1], name[-1].rstrip(":,")], amount, bar)
        if is_amount(amount, bar) and item is not None:
            yield amount, item


def is_amount(text: str, bar: Bar) -> bool:
    """Whether words are an amount and nothing else."""
    with contextlib.suppress(BadInput):
        parse_pour(text, bar.measures)
        return True
    return False


def _known(name: Sequence[str], amount: str, bar: Bar) -> Ingredient | str | None:
    """The meaning of a name, with leading filler words removed; None if it is not known."""
    for start in range(len(name)):
        said = " ".join(name[start:])
        key = house_key(said, bar.recipes, bar.library)
        if key is not None and not bar.recipes[key].stated:
            return key
        if (item := stocked_as(said, [amount], bar.bottles) or bar.bottles.get(said)) is not None:
            return item
        if name[start].casefold() not in _BESIDE:
            english = in_english(said)
            return stocked_as(english, [amount], bar.bottles) if english else None
    return None


def _counted(line: str, bar: Bar) -> tuple[str, Ingredient] | None:
    """The count of a line like "8 mint leaves" or "3 limes", in the notation of recipes; None for
    other lines."""
    taken = _number_of(line)
    if taken is None:
        return None
    number, name = taken
    pieces = bar.bottles.pieces
    whole = say_pieces(number, WHOLE)
    item = _known(name.split(), whole, bar)
    if not isinstance(item, str | None) and pieces.one(item, parse_pour(whole)) is not None:
        return whole, item
    found = pieces.counted(words(name))
    if found is None or not _BESIDE.issuperset(found.rest):
        return None
    item = bar.bottles.find(found.key)
    if not found.said and pieces.one(item, parse_pour(whole)) is not None:
        return whole, item
    return say_pieces(number, found.cut), item


def _checked(amount: str, item: Ingredient | str, bar: Bar) -> GoesIn:
    """The input, once it is checked that its amount can be weighed."""
    if isinstance(item, str):
        return GoesIn(item, amount)
    put_in(item, amount, bar)
    return GoesIn(item.key, amount)


def _mistake(line: str, bar: Bar) -> BadInput:
    """Why a line is no input."""
    split = line.split()
    remedy = f"Write a line like {EXAMPLES}."
    if not split:
        return BadInput("a line is empty", remedy=remedy)
    begins = longest_match(split, lambda text: is_amount(text, bar))
    if begins == len(split):
        return BadInput(f"'{short(line)}' does not say of what", remedy=remedy)
    if begins:
        return bar.bottles.unknown(_plain_name(split[begins:]))
    if line.startswith("-"):
        return BadInput(f"'{short(line)}' is less than nothing", remedy=remedy)
    try:
        taken = split_count(line)
    except BadInput as error:
        return error
    number, name = taken or ("", line)
    if (item := bar.bottles.get(name)) is not None:
        what = f"'{short(line)}' has no unit" if number else f"how much {item.name} is not said"
        why = "nobody has said what one of it weighs" if number and item.per == "g" else ""
        return BadInput(what, why=why, remedy=f"Write it like '200 {item.per} {item.name}'.")
    if number and name:
        return bar.bottles.unknown(_plain_name(name.split()))
    what = f"'{short(line)}' is neither an amount of something nor a step"
    return BadInput(what, remedy=f"{remedy} Steps: {STEPS}.")


def _number_of(line: str) -> tuple[str, str] | None:
    with contextlib.suppress(BadInput):
        return split_count(line)
    return None


def _plain_name(name: Sequence[str]) -> str:
    """A name without leading filler words."""
    own = list(name)
    while len(own) > 1 and own[0].casefold() in _BESIDE:
        del own[0]
    return " ".join(own)


def longest_match(split: Sequence[str], fits: Callable[[str], bool]) -> int:
    """How many leading words together fit; 0 if none do."""
    return next((n for n in range(len(split), 0, -1) if fits(" ".join(split[:n]))), 0)
