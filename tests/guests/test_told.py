"""Nothing that is known of a thing is lost on its way to a guest, nor of what notes name."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest

from solver.drinks.guest_notice import ForGuest
from solver.pantry.avoidance import Against, Avoidance
from solver.pantry.defaults import load_defaults
from solver.pantry.disclosure import Disclosure, stated, with_told
from solver.pantry.library import load_library
from solver.pantry.mentions import Mentions
from solver.show.documents.guest import guest_fields, told_fields
from solver.show.documents.plan_told import job_fields
from solver.show.text.guest import caution_lines, told_line, told_lines
from solver.tasks.plan.plan_notice import JobNotice

TOLD = Disclosure(
    allergens=frozenset({"egg"}),
    may_contain=frozenset({"nuts"}),
    animal=frozenset({"honey"}),
    may_animal=frozenset({"fish"}),
    declare=frozenset({"caffeine"}),
    cautions=("Careful.",),
    alcohol=(),
    may_hold_alcohol=("odd vinegar",),
    allergens_not_known=("odd nut",),
    animal_not_known=("odd fat",),
)
NAMED = ("egg", "nuts", "honey", "fish", "caffeine", "odd nut", "odd fat")
GIN = load_library().find("gin")


def mentions(told: Disclosure) -> Mentions:
    """Of gin alone, which is told of like this."""
    return Mentions.among([GIN], lambda _: told)


def notice(told: Disclosure) -> ForGuest:
    drink = load_defaults().jurisdiction("United States").standard_drink
    return ForGuest("United States", drink, 1.0, told, told.cautions)


def test_lines_say_all_of_it() -> None:
    assert told_lines(TOLD) == [
        "Allergens: egg",
        "May contain: nuts",
        "Allergens not known: odd nut",
        "Of animal origin: honey",
        "May be of animal origin: fish",
        "Animal origin not known: odd fat",
        "Declare: caffeine",
    ]
    assert [word for word in NAMED if word not in told_line(TOLD)] == []
    assert caution_lines(notice(TOLD)) == ["May hold alcohol: odd vinegar", "Caution: Careful."]


def test_fields_say_all_of_it() -> None:
    fields: dict[str, Any] = guest_fields(notice(TOLD))
    del fields["standard_drinks"]
    assert fields == {
        "allergens": ["egg"],
        "may_contain": ["nuts"],
        "allergens_not_known": ["odd nut"],
        "animal": ["honey"],
        "may_animal": ["fish"],
        "animal_not_known": ["odd fat"],
        "declare": ["caffeine"],
        "may_hold_alcohol": ["odd vinegar"],
        "cautions": ["Careful."],
    }


def test_what_nobody_knows_all_of_is_no_empty_list_to_programs() -> None:
    fields = told_fields(TOLD)
    assert (fields["allergens"], fields["animal"]) == (None, None)
    known = told_fields(Disclosure(allergens=frozenset({"egg"})))
    assert (known["allergens"], known["animal"]) == (["egg"], [])


def test_what_a_job_makes_is_told_of_to_programs() -> None:
    fields = job_fields(JobNotice(replace(TOLD, kitchen_cautions=("Keep cold.",))))
    assert fields["may_hold_alcohol"] == ["odd vinegar"]
    assert fields["cautions"] == ["Careful.", "Keep cold."]
    assert (fields["may_contain"], fields["wash_first"]) == (["nuts"], None)


def test_a_thing_states_all_that_is_told_of_it_and_nothing_that_nobody_knows() -> None:
    item = with_told(GIN, TOLD)
    assert (item.allergens, item.animal) == (None, None)
    known = replace(TOLD, allergens_not_known=(), animal_not_known=(), may_hold_alcohol=())
    again = replace(stated(with_told(GIN, known)), alcohol=(), holds=frozenset())
    assert again == known


@pytest.mark.parametrize(
    "avoided",
    [
        Avoidance("sulphites", allergens=frozenset({"sulphites"})),
        Avoidance("honey", animal=frozenset({"honey"})),
        Avoidance("caffeine", declare=frozenset({"caffeine"})),
    ],
)
def test_whatever_is_avoided_a_thing_of_which_nobody_knows_is_not_offered(
    avoided: Avoidance,
) -> None:
    assert avoided.against(Disclosure(allergens_not_known=("odd nut",))) is Against.NOT_KNOWN
    assert avoided.against(Disclosure()) is None


def test_what_notes_name_is_possible_with_all_that_it_may_be() -> None:
    told = mentions(TOLD).notes("A rinse of gin.")
    assert (told.allergens, told.animal) == (frozenset(), frozenset())
    assert told.may_contain == {"egg", "nuts"}
    assert told.may_animal == {"honey", "fish"}
    assert told.declare == {"caffeine"}
    assert told.may_hold_alcohol == ("odd vinegar",)


def test_what_a_text_is_without_ends_with_the_next_name() -> None:
    of = mentions(TOLD)
    assert of.notes("no gin").may_contain == frozenset()
    for said in ("no salt, a rinse of gin", "instead of sugar, gin", "without ice: gin on top"):
        assert of.notes(said).may_contain == {"egg", "nuts"}
        assert of.garnish(said).allergens >= {"egg"}
