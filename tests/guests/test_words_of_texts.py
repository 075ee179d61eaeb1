"""What guests avoid is found in whatever words a garnish, a step or a note says it."""

from __future__ import annotations

from functools import cache

import pytest

from solver.pantry.bar import Bar
from solver.pantry.disclosure import Disclosure, together
from solver.pantry.guest_words import guest_words, is_of_a_thing
from solver.pantry.load_bar import load_bar
from tests.each import each
from tests.ingredient_tables import ROOT


@cache
def bar() -> Bar:
    return load_bar(ROOT / "demo")


def in_garnish(text: str) -> Disclosure:
    return bar().mentions.garnish(text)


def in_steps(text: str) -> Disclosure:
    return together((bar().mentions.steps(text), bar().mentions.unknown_in_steps(text)))


def in_notes(text: str) -> Disclosure:
    return bar().mentions.notes(text)


@pytest.mark.parametrize(
    ("told", "avoided"),
    [
        (in_notes("Made with or without almonds."), "nuts"),
        (in_steps("Shake with or without egg white."), "egg"),
        (in_steps("Serve with ice or without. Cream on top."), "milk"),
        (in_steps("Serve with ice or without. Gin on top."), "alcohol"),
        (in_steps("Stir or not, cream on top"), "milk"),
        (in_steps("Mit Eis oder ohne, Sahne oben"), "milk"),
        (in_notes("Shake? No. Cream on top."), "milk"),
        (in_garnish("ice? no. whipped cream"), "milk"),
        (in_garnish("lime wheel: no, peanuts on the rim"), "peanut"),
        (in_notes("Cream, free-poured over a spoon, on top."), "milk"),
        (in_notes("Cream free-poured on top"), "milk"),
        (in_steps("Do not shake without egg white."), "egg"),
        (in_notes("Never without almonds on top."), "nuts"),
        (in_notes("nicht ohne Sahne"), "milk"),
        (in_notes("No egg white missing"), "egg"),
        (in_notes("Almonds free on request."), "nuts"),
        (in_notes("Can be made almond free."), "nuts"),
        (in_notes("Not almond free"), "nuts"),
    ],
)
def test_a_negation_ends_with_its_clause_and_or_leaves_it_open(
    told: Disclosure, avoided: str
) -> None:
    assert bar().avoidable.word(avoided).against(told) is not None


@pytest.mark.parametrize(
    ("told", "avoided"),
    [
        (in_steps("Top with house foam"), "egg"),
        (in_steps("Add a spoon of house mix"), "nuts"),
        (in_steps("Top with the bar mixture"), "nuts"),
        (in_steps("Add 1 oz of the house"), "alcohol"),
        (in_steps("Fill with batch."), "alcohol"),
        (in_steps("Top from the keg"), "alcohol"),
        (in_steps("Top with half a pint"), "alcohol"),
        (in_steps("Top fizz"), "alcohol"),
        (in_steps("Add old fashioned"), "alcohol"),
        (in_steps("Add the white of one, dry shake."), "egg"),
        (in_steps("Crack one in."), "egg"),
        (in_steps("Add 20 ml red."), "alcohol"),
        (in_steps("Top with the bottle"), "alcohol"),
        (in_garnish("seasonal garnish"), "nuts"),
        (in_garnish("salted stick"), "nuts"),
        (in_garnish("edible flower"), "chamomile"),
        (in_garnish("spice rim"), "mustard"),
        (in_garnish("citrus wheel"), "tangerine"),
        (in_garnish("seasonal berry"), "blackcurrants"),
    ],
)
def test_words_that_do_not_say_what_goes_in_speak_against_it(
    told: Disclosure, avoided: str
) -> None:
    assert bar().avoidable.word(avoided).against(told) is not None


@pytest.mark.parametrize(
    ("told", "avoided"),
    [
        (in_steps("Shake hard with ice, strain the mixture into a coupe"), "nuts"),
        (in_steps("Shake without ice, then with ice"), "nuts"),
        (in_steps("Top with the foam"), "egg"),
        (in_steps("Fill the glass with crushed ice"), "alcohol"),
        (in_steps("Top up with soda, dust with nutmeg"), "egg"),
        (in_steps("Rim the glass with salt; batch and bottle"), "nuts"),
        (in_garnish("3 dashes aromatic bitters on the foam"), "nuts"),
        (in_garnish("large ice cube"), "nuts"),
        (in_garnish("salted rim"), "nuts"),
        (in_garnish("nothing"), "nuts"),
        (in_steps("Add all ingredients except the soda; stir, don't shake"), "nuts"),
        (in_steps("Add the rest, fill the tin halfway, let it sit for a minute"), "nuts"),
        (in_steps("Finish with an expressed lemon peel; top slowly"), "nuts"),
        (in_garnish("a twist"), "nuts"),
        (in_garnish("citrus wheel"), "lemongrass"),
        (in_garnish("no nuts"), "nuts"),
        (in_notes("Dairy free."), "milk"),
    ],
)
def test_what_a_text_says_nothing_of_does_not(told: Disclosure, avoided: str) -> None:
    assert bar().avoidable.word(avoided).against(told) is None


@each(
    (key, word)
    for key, meaning in guest_words().items()
    if is_of_a_thing(meaning)
    for word in (key, *meaning.words)
)
def test_who_avoids_a_thing_is_not_served_what_is_called_so(key: str, word: str) -> None:
    for told in (in_garnish(word), in_steps(f"Add {word}")):
        assert bar().avoidable.word(key).against(told) is not None


def test_what_a_word_may_be_may_contain_its_allergens() -> None:
    assert "mustard" in in_garnish("spice rim").may_contain
