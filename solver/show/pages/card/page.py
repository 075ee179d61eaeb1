"""A card in words: every string that a page shows, in one language, whatever it is made of."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from solver.drinks.card import Card, Gauge
from solver.drinks.method import Act, MethodStep
from solver.measures import MEASURES
from solver.pantry.bar import Bar
from solver.pantry.defaults import Glass
from solver.pantry.ingredient import Ingredient
from solver.pantry.pour import Pour
from solver.pantry.spec import BEST
from solver.quantities import Unit, show_amount, show_number
from solver.show.pages.card.drawing import glass_svg
from solver.show.pages.card.garnish import garnish_words
from solver.show.pages.card.house import HouseWords, house_words
from solver.show.text.floated import under_of
from solver.show.text.pours import said_amount, said_name
from solver.show.words import Words
from solver.show.words.guest_words_on_paper import told_phrases
from solver.show.words.phrase import Phrase

STRENGTHS = (
    (0.5, "none"), (8.0, "light"), (15.0, "gentle"), (22.0, "medium"), (30.0, "strong"),
)  # fmt: skip
"""Up to how many % vol a drink is called what: our own choice. From 0.5 % vol a drink is no longer
without alcohol (Regulation (EU) 1169/2011 asks for the strength above 1.2 % vol)."""
SWEET = ((2.0, "plain"), (5.0, "soft"), (11.0, "sweet"))
"""Up to how many g of sugar in 100 mL a drink with little acid is called what: our own choice."""
SOUR_FROM = 0.25
"""g of acid in 100 mL from which acid is tasted beside sugar: our own choice."""
RATIOS = ((6.5, "tart"), (11.0, "even"))
"""Up to how much sugar to acid a drink is called what: the published band for shaken drinks, 6 to
10, as the middle (balance ranges from memory)."""


@dataclass(frozen=True)
class PourWords:
    """A pour: `first` as the bar says it, `second` in the other unit, empty where that is none."""

    name: Phrase
    first: str
    second: str
    remark: str


@dataclass(frozen=True)
class GaugeWords:
    """A measure beside its picture; `at` and `band` are shares of the axis, from 0 to 1."""

    label: str
    value: str
    verdict: str
    at: float
    band: tuple[float, float] | None


@dataclass(frozen=True)
class Page:
    """Everything on a card, ready to be set; empty where there is nothing to say.

    `picture` is SVG; all else is plain text, and what may be of another language a phrase.
    """

    language: str
    anchor: str
    name: str
    taste: str
    serving: str
    units: tuple[str, str]
    pours: tuple[PourWords, ...]
    steps: tuple[Phrase, ...]
    gauges: tuple[GaugeWords, ...]
    volume: str
    under: Phrase
    picture: str
    drinks: str
    tells: tuple[Phrase, ...]
    cautions: tuple[Phrase, ...]
    defers: str
    kitchen: tuple[Phrase, ...]
    house: tuple[HouseWords, ...]
    planned: str
    larger: str
    notes: Phrase
    cost: str
    dates: str
    headings: dict[str, str]


def page_of(card: Card, bar: Bar, words: Words, number: int = 1) -> Page:
    """A card in the words of a language, and its `number` among those that stand in one file."""
    volume = card.values["volume"] or 0.0
    anchor = f"card-{number}"  # names may be alike, or be another's with "glass" behind it
    said = words.say("value", "volume", value=words.number(volume, 0))
    return Page(
        language=words.language,
        anchor=anchor,
        name=card.name,
        taste=_taste(card, words),
        serving=_serving(card, words),
        units=_units(bar, words),
        pours=tuple(_pour(line, card.technique, bar, words) for line in card.pours),
        steps=_steps(card, words),
        gauges=tuple(_gauge(gauge, words) for gauge in card.gauges),
        volume=said,
        under=_under(card, words),
        picture=glass_svg(card, _drawing(card, words), anchor),
        drinks=_drinks(card, words),
        tells=told_phrases(card.guest.told, words),
        cautions=tuple(words.called(each, "caution") for each in card.guest.cautions),
        defers=words.say("line", "defers"),
        kitchen=tuple(words.called(each, "caution") for each in card.kitchen),
        house=tuple(house_words(each, bar, words) for each in card.house),
        planned=words.say("line", "planned") if card.house else "",
        larger=words.say("line", "larger"),
        notes=_notes(card, words),
        cost=_cost(card, bar, words),
        dates=_dates(card, words),
        headings=dict(words.table["heading"]),
    )


def _drawing(card: Card, words: Words) -> str:
    volume = words.number(card.values["volume"] or 0.0, 0)
    return words.say("line", "drawing", glass=_glass(card.glass, words), volume=volume)


def _units(bar: Bar, words: Words) -> tuple[str, str]:
    ounces, metric = words.say("heading", "ounces"), words.say("heading", "metric")
    return (ounces, metric) if bar.show == "oz" else (metric, ounces)


def _pour(line: Pour, technique: str, bar: Bar, words: Words) -> PourWords:
    name = words.called(said_name(line.ingredient, technique))
    first, second = (words.amount(said) for said in _amounts(line, bar))
    remark = words.say("line", "on_top") if line.top else ""
    return PourWords(name, first, "" if second == first else second, remark)


def _amounts(line: Pour, bar: Bar) -> tuple[str, str]:
    """A pour as the bar says it, and in the other unit; of what was counted, what that comes to."""
    item = line.ingredient
    if line.written is not None and (line.written.cut or line.written.unit is Unit.PIECE):
        weighed = item.per == "g"
        return said_amount(line, bar), f"{show_number(line.amount)} {'g' if weighed else 'mL'}"
    first, second = (
        show_amount(line.amount, item.tool, style, bar.measures, piece_ml=item.piece_ml)
        for style in (("oz", "ml") if bar.show == "oz" else ("ml", "oz"))
    )
    return first, second


def _glass(glass: Glass | None, words: Words) -> str:
    if glass is None:
        return words.say("glass", "any")
    known = words.table["glass"]
    return str(known.get(glass.name, glass.says or glass.name))


def _serving(card: Card, words: Words) -> str:
    made, served = words.say("technique", card.technique), words.say("serve", card.serve.value)
    said = [made] if served in made else [made, served]
    return ", ".join([*said, *([_glass(card.glass, words)] if card.glass else [])])


def _taste(card: Card, words: Words) -> str:
    """One line: how strong, how sweet, of what."""
    numbers = words.say("line", "taste", strength=_strength(card, words), taste=_sweet(card, words))
    tags = [words.say("character", tag) for tag in card.characters]
    said = f"{numbers}; {words.listed(tags)}" if tags else numbers
    return f"{said[0].upper()}{said[1:]}"


def _strength(card: Card, words: Words) -> str:
    abv = card.values["abv"] or 0.0
    rank = _rank(abv, STRENGTHS, "fierce")
    if rank == "none" and (abv > 0 or card.guest.may_hold_alcohol):
        rank = "trace" if abv > 0 else "maybe"
    return words.say("strength", rank)


def _sweet(card: Card, words: Words) -> str:
    sugar, acid = card.values["sugar"] or 0.0, card.values["acid"] or 0.0
    sour = acid >= SOUR_FROM
    rank = _rank(sugar / acid, RATIOS, "sweeter") if sour else _rank(sugar, SWEET, "rich")
    bitter = card.bittersweet and rank in {"sweet", "rich", "sweeter"}
    return words.say("taste", "bittersweet" if bitter else rank)


def _rank(value: float, ranks: Sequence[tuple[float, str]], beyond: str) -> str:
    return next((word for most, word in ranks if value < most), beyond)


def _steps(card: Card, words: Words) -> tuple[Phrase, ...]:
    """The steps of the spec, as somebody wrote them; else those that follow from the drink."""
    if card.written_steps:
        return tuple(words.called(step, "step") for step in card.written_steps)
    return tuple(_step(step, card, words) for step in card.steps)


def _step(step: MethodStep, card: Card, words: Words) -> Phrase:
    if step.words:
        said = garnish_words(step.words, words)
        items = _items(step, card, words)
        return words.phrase("act", step.act.value, garnish=said, items=items).capital
    items, act = _items(step, card, words), step.act.value
    if card.glass is None and act in words.table["act-any-glass"]:
        return words.phrase("act-any-glass", act, items=items).capital
    glass = _glass(card.glass, words)
    return words.phrase("act", act, items=items, glass=glass).capital


def _items(step: MethodStep, card: Card, words: Words) -> Phrase:
    """What a step is done with; by one word where it is all there is."""
    whole = len(step.ingredients) == len(card.pours) and step.act is not Act.HOT
    if len(step.ingredients) > 1 and whole:
        return Phrase.of(str(words.table["everything"]))
    return _row_of_names(step.ingredients, words)


def _row_of_names(items: Iterable[Ingredient], words: Words) -> Phrase:
    """What ingredients are called while working, each once."""
    return words.row(dict.fromkeys(words.called(item.name).short for item in items))


def _gauge(gauge: Gauge, words: Words) -> GaugeWords:
    measure, (low, high) = gauge.measure, gauge.axis

    def share(value: float) -> float:
        return min(1.0, max(0.0, (value - low) / (high - low)))

    verdict, band = "", None
    if gauge.band is not None:
        least, most = gauge.band
        side = "below" if gauge.value < least else "above" if gauge.value > most else "within"
        verdict, band = words.say("band", side), (share(least), share(most))
    return GaugeWords(
        label=words.say("measure", measure.name),
        value=words.say("value", measure.name, value=words.number(gauge.value, measure.decimals)),
        verdict=verdict,
        at=share(gauge.value),
        band=band,
    )


def _drinks(card: Card, words: Words) -> str:
    guest = card.guest
    return words.say(
        "value", "standard_drinks",
        count=words.number(guest.standard_drinks, 1),
        place=str(words.called(guest.jurisdiction, "place")),
        grams=words.amount(f"{guest.standard_drink.g:g} g"),
    )  # fmt: skip


def _under(card: Card, words: Words) -> Phrase:
    """What is under a float; empty where nothing is laid on the drink."""
    if card.floated is None:
        return Phrase()
    values = under_of(card.floated.under)
    numbers = words.listed(
        [
            words.say("value", name, value=words.number(value, MEASURES[name].decimals))
            for name, value in values.items()
        ]
    )
    names = _row_of_names(card.floated.items, words)
    return words.phrase("line", "under", names=names, numbers=numbers)


def _cost(card: Card, bar: Bar, words: Words) -> str:
    if card.cost is None:
        return ""
    return words.say("value", "cost", value=f"{words.number(card.cost, 2)} {bar.currency}".strip())


def _notes(card: Card, words: Words) -> Phrase:
    """The notes of the drink; below them, for the bar, what was thought of it last."""
    notes, note = words.called(card.notes, "note"), card.tasted
    if note is None:
        return notes
    score = words.say("line", "score", score=words.number(note.score, 0), best=str(BEST))
    said = Phrase.of(words.say("line", "tasted", date=words.day(note.date), score=score))
    said = said + ", " + words.called(note.words, "note") if note.words else said
    return notes + "\n" + said if notes else said


def _dates(card: Card, words: Words) -> str:
    """What makes it a draft, which version it is and of which day: the house's business, but for
    the first."""
    said: list[str] = []
    if card.not_cooked:
        said.append(words.say("line", "draft", names=str(_row_of_names(card.not_cooked, words))))
    elif card.made is not None and card.version is None:
        said.append(words.say("line", "not_approved"))
    if card.version is not None:
        said.append(words.say("line", "version", date=words.day(card.version)))
    if card.made is not None:
        said.append(words.say("line", "made", date=words.day(card.made)))
    return "; ".join(said)
