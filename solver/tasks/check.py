"""Answer a guest: yes with a drink, or no with the reason and the nearest yes."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from pathlib import Path

from solver.errors import BadInput, BadInputs
from solver.measures import MEASURES
from solver.pantry.bar import Bar
from solver.pantry.checked import gather
from solver.pantry.guests import Guest, Placed
from solver.pantry.profile import Profile
from solver.pantry.profile_files import find_profile
from solver.search.backend import Backend
from solver.search.problem import Goal
from solver.tasks.demands import Asked
from solver.tasks.design import Design, Explain, design
from solver.tasks.request import Request, Step
from solver.tasks.steps import STEPS


@dataclass(frozen=True)
class Verdict:
    """The answer to one guest."""

    name: str
    found: Design


def check(
    name: str, profile: Profile, bar: Bar, request: Request, backend: Backend, explain: Explain
) -> Verdict:
    """The verdict on a request.

    Raises:
        BadInput, BadInputs: something asked for can't be read, is not known, or has no price where
            the cost matters.
    """
    return Verdict(name, design(profile, bar, request, backend, explain=explain))


def check_all(
    guests: Sequence[Placed], usual: str | None, files: Mapping[str, Path], bar: Bar,
    house: Request, backend: Backend,
) -> tuple[Verdict, ...]:  # fmt: skip
    """A verdict for each guest; nobody is answered before all are understood.

    `usual` is the profile of guests who name none, `house` what is asked for all of them.

    Raises:
        BadInput, BadInputs: everything that can't be read or is not known, with its line.
    """
    asked: list[tuple[str, Profile, Request]] = []
    mistakes: list[BadInput | BadInputs] = []
    for placed in guests:
        guest = placed.guest
        try:
            named = guest.profile or usual
            if named is None:
                what = f"{guest.name} names no profile"
                raise BadInput(what, remedy="Write profile = ..., or one for all as PROFILE.")
            profile = find_profile(named, files)
            request = request_of(guest, house)
            Asked.of(profile, bar, replace(request, steps=())).problem()
            asked.append((guest.name, profile, request))
        except BadInput as error:
            mistakes.append(error if error.where else error.at(placed.where))
        except BadInputs as error:
            mistakes.append(error)
    gather(mistakes)
    return tuple(
        check(name, profile, bar, request, backend, Explain.CONFLICTS)
        for name, profile, request in asked
    )


def request_of(guest: Guest, house: Request) -> Request:
    """What a guest asks, on top of what is asked for all."""
    measures = {
        name: (*house.measures.get(name, ()), *getattr(guest, name, ())) for name in MEASURES
    }
    steps = tuple(Step(word, by) for word in STEPS if (by := getattr(guest, word)) is not None)
    return replace(
        house,
        measures=measures,
        wanted=(*house.wanted, *guest.with_),
        unwanted=(*house.unwanted, *guest.without),
        character=(*house.character, *guest.character),
        no_character=(*house.no_character, *guest.no_character),
        standard_drinks=(*house.standard_drinks, *guest.standard_drinks),
        beyond=(*house.beyond, *guest.beyond),
        glass=guest.glass or house.glass,
        goal=Goal(guest.goal) if guest.goal else house.goal,
        steps=(*house.steps, *steps),
    )
