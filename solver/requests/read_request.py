"""From what somebody wrote to a request: the one reader of the command line, files and programs."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field

from solver.errors import BadInput
from solver.files.near_words import near_words
from solver.harmony.dial import Dial
from solver.measures import MEASURES, Measure
from solver.pantry.bar import Bar
from solver.pantry.vocabulary import CHARACTERS
from solver.printable import short
from solver.quantities import Span, parse_number, parse_pour_span, parse_span
from solver.requests.origin import From, Origin
from solver.requests.read_character import read_character
from solver.requests.request import ComparedStep, IngredientWish, MeasureWish, Request
from solver.requests.word_wishes import measure_meant, read_words
from solver.search.problem import Goal


@dataclass(frozen=True)
class WrittenRequest:
    """A request as written.

    `measures` holds every value and range by the name of its measure; `wanted` are ingredients,
    with `=` a pour or a range of it; `character` names characters, each with how loud it is to be
    where that is said, `words` the bar's words; `unwanted` are ingredients, kinds or what a guest
    avoids; `standard_drinks` are ranges of the jurisdiction's. What else is there is as in
    `Request`.
    """

    measures: Mapping[str, tuple[str, ...]] = field(default_factory=dict)
    wanted: tuple[str, ...] = ()
    unwanted: tuple[str, ...] = ()
    goal: Goal = Goal.IN_KEEPING
    glass: str | None = None
    serves: int = 1
    seconds: float = 60.0
    alternatives: int = 0
    character: tuple[str, ...] = ()
    no_character: tuple[str, ...] = ()
    standard_drinks: tuple[str, ...] = ()
    beyond: tuple[str, ...] = ()
    steps: tuple[ComparedStep, ...] = ()
    dial: Dial = Dial.FAMILIAR
    feature: tuple[str, ...] = ()
    words: tuple[str, ...] = ()
    as_in_keeping_as: str | None = None

    @property
    def named(self) -> tuple[str, ...]:
        """Every ingredient that is to be poured, without how much of it."""
        return tuple(text.partition("=")[0] for text in (*self.wanted, *self.feature))


def read_request(written: WrittenRequest, bar: Bar) -> Request:
    """The request that was written, in the units, keys and words of a bar.

    Raises:
        BadInput: something can't be read or is not known.
    """
    for name in written.beyond:
        _known("measure", name, MEASURES)
    wishes = [
        wish for name, texts in written.measures.items() for wish in _of_measure(name, texts, bar)
    ]
    for tag in written.no_character:
        _known("character", tag, CHARACTERS)
    characters = [read_character(text) for text in written.character]
    loud = (MeasureWish(measure, span) for measure, span in characters if span is not None)
    drinks = (_standard_drinks(text, bar) for text in written.standard_drinks)
    return Request(
        measures=(*wishes, *loud, *drinks),
        wanted=tuple(read_wanted(text, bar) for text in written.wanted),
        unwanted=tuple(each for text in written.unwanted for each in bar.avoidable.each_word(text)),
        goal=written.goal,
        glass=written.glass,
        serves=written.serves,
        seconds=written.seconds,
        alternatives=written.alternatives,
        # One value says how loud it is best, and that it is there at all.
        character=tuple(each for each, span in characters if span is None or span.aim is not None),
        no_character=tuple(bar.avoidable.character(tag) for tag in written.no_character),
        beyond=written.beyond,
        steps=written.steps,
        dial=written.dial,
        words=read_words(written.words, bar),
        feature=tuple(bar.bottles.said(name).key for name in written.feature),
        as_in_keeping_as=_share(written.as_in_keeping_as),
    )


def read_wanted(text: str, bar: Bar) -> IngredientWish:
    """The ingredient that a wish names, and how much of it where the wish says.

    Raises:
        BadInput: it is not known, nothing of it is in a bottle yet, or its pour can't be read.
    """
    name, sign, pour = text.partition("=")
    recipe = bar.recipe(name)
    if recipe is not None and name not in bar.library:
        what = f"nothing of {recipe.dish.name} is in a bottle yet"
        remedy = f"Cook it, and run `equipour prep {recipe.key} --stock`."
        raise BadInput(what, why="the house has only its recipe", remedy=remedy)
    if bar.library.get(name) is None and (several := _of_kind(name, bar)):
        what = f"'{short(name)}' is a kind, and no single ingredient"
        raise BadInput(what, remedy=f"Of it the shelf has {' or '.join(several)}.")
    key = _meant(name, bar)
    return IngredientWish(key, parse_pour_span(pour, bar.measures) if sign else None)


def _of_kind(name: str, bar: Bar) -> list[str]:
    """Keys of what the shelf has of a kind, or of a family of kinds."""
    return [item.key for item in bar.library.listed_as(name) if bar.stocked(item.key) is not None]


def _meant(name: str, bar: Bar) -> str:
    """The key of an ingredient.

    Raises:
        BadInput: it is not known; what the house makes of such words is suggested first.
    """
    bar.library.refuse_either(name)
    try:
        return bar.library.find(name).key
    except BadInput as error:
        from solver.pantry.naming import words

        asked = set(words(name))
        own = [key for key, each in bar.recipes.items() if asked <= set(words(each.dish.name))]
        if not asked or not own:
            raise
        raise BadInput(error.what, near=tuple(dict.fromkeys((*own, *error.near)))[:3]) from None


def _of_measure(name: str, texts: Sequence[str], bar: Bar) -> list[MeasureWish]:
    """What is asked of one measure: limits and one aim.

    Raises:
        BadInput: something can't be read, or there are two aims.
    """
    found = [_measure_wish(name, text, bar) for text in texts]
    spans = ((wish.span.aim, text) for wish, text in zip(found, texts, strict=True))
    aims = {aim: text for aim, text in spans if aim is not None}
    if len(aims) > 1:
        low, high = short(aims[min(aims)]), short(aims[max(aims)])
        what = f"the {found[0].measure.label} cannot be both {low} and {high}"
        raise BadInput(what, remedy=f"Ask for one value, or for a range like {low}..{high}.")
    return found


def _measure_wish(name: str, text: str, bar: Bar) -> MeasureWish:
    """What is asked of a measure."""
    measure = measure_meant(name, text)
    span = parse_span(text, measure.quantity, bar.measures, currency=bar.currency)
    return MeasureWish(measure, span)


def _share(text: str | None) -> float | None:
    """A share of published drinks, from so many in a hundred.

    Raises:
        BadInput: it can't be read, or is none of a hundred.
    """
    if text is None:
        return None
    what = f"'{short(text)}' is no share of published drinks"
    remedy = "Write it like 90%: as in keeping as nine of ten are."
    try:
        percent = parse_number(text.strip().removesuffix("%").strip())
    except BadInput as error:
        raise BadInput(what, remedy=remedy) from error
    if not 0 < percent <= 100:
        raise BadInput(what, why="it is not between 0 and 100 %", remedy=remedy)
    return percent / 100.0


def _standard_drinks(text: str, bar: Bar) -> MeasureWish:
    """A limit on the alcohol, from one on standard drinks; one value is the most.

    Raises:
        BadInput: it can't be read.
    """
    unit = "drink" if text.strip() in {"1", "<=1"} else "drinks"
    written = text if any(map(str.isalpha, text)) else f"{text.strip()} {unit}"
    alcohol: Measure = MEASURES["ethanol"]
    span = parse_span(written, alcohol.quantity, bar.measures)
    asked = span if span.aim is None else Span(high=span.aim)
    return MeasureWish(alcohol, asked, Origin(From.DRINKS, written))


def _known(what: str, name: str, names: Sequence[str] | Mapping[str, object]) -> None:
    """Check that a name is one of `names`.

    Raises:
        BadInput: it is not.
    """
    if name not in names:
        said = "a character known here" if what == "character" else f"a {what}"
        remedy = f"Known: {', '.join(names)}."
        raise BadInput(
            f"'{short(name)}' is not {said}", near=near_words(name, names), remedy=remedy
        )
