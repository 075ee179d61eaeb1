"""Answer a guest: yes with a drink, or no with the reason and the nearest yes."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from pathlib import Path

from solver.clock import Clock, Work
from solver.errors import BadInput, BadInputs
from solver.files.checked import gather
from solver.measures import MEASURES, asked_of, compared_of
from solver.pantry.bar import Bar
from solver.pantry.guests import Guest, Placed
from solver.pantry.library import slug
from solver.pantry.profile import Profile
from solver.pantry.spec import Spec
from solver.requests.asked_drink import AskedDrink
from solver.requests.read_request import WrittenRequest, read_request
from solver.requests.request import ComparedStep, Request
from solver.search.milp.backend import Backend
from solver.search.problem import Goal, Problem
from solver.tasks.design import design_as_asked, unsearched
from solver.tasks.design_result import Design, Explain, Status
from solver.tasks.prep.uncooked import with_uncooked
from solver.tasks.profile_or_spec import profile_or_spec
from solver.tasks.respec.order import GuestOrder, PendingOrder, pending_order


@dataclass(frozen=True)
class Verdict:
    """The answer to one guest; `order` is set if it is about a spec."""

    name: str
    found: Design
    order: GuestOrder | None = None


def check(
    name: str, profile: Profile, bar: Bar, request: Request, backend: Backend, explain: Explain,
    clock: Clock | None = None,
) -> Verdict:  # fmt: skip
    """Answer one request.

    Raises:
        BadInput, BadInputs: something asked for can't be read, is not known, or has no price where
            the cost matters.
    """
    return Verdict(
        name, design_as_asked(profile, bar, request, backend, clock=clock, explain=explain)
    )


def check_all(
    guests: Sequence[Placed], usual: str | None, files: Mapping[str, Path], bar: Bar,
    house: Request, backend: Backend, clock: Clock | None = None,
) -> tuple[Verdict, ...]:  # fmt: skip
    """A verdict for each guest; none is worked out before every request has been read.

    `usual` is the profile of guests who name none, `house` is asked for all of them. The time is
    shared: each may take an equal part of what is left. If the user stops one search, no other is
    started.

    Raises:
        BadInput, BadInputs: everything that can't be read or is not known, with its line.
    """
    waiting: list[_Waiting] = []
    mistakes: list[BadInput | BadInputs] = []
    for placed in guests:
        try:
            waiting.append(_waiting(placed.guest, usual, files, bar, house))
        except BadInput as error:
            mistakes.append(error if error.where else error.at(placed.where))
        except BadInputs as error:
            mistakes.append(error)
    gather(mistakes)
    clock = clock or Clock.of(house.seconds)
    verdicts: list[Verdict] = []
    for each in waiting:
        stopped = bool(verdicts) and verdicts[-1].found.interrupted
        if stopped or clock.left == 0:
            found = unsearched(each.plain, each.problem, backend, interrupted=stopped)
            verdicts.append(Verdict(each.name, found))
            continue
        clock.tell(Work.ITEMS, len(verdicts), len(waiting))
        share = clock.unwatched.within(clock.left / (len(waiting) - len(verdicts)))
        if each.order is not None:
            verdicts.append(_of_a_spec(each.name, each.order, backend, share))
            continue
        found = design_as_asked(
            each.plain.profile, bar, each.request, backend,
            clock=share, explain=Explain.CONFLICTS, plain=each.plain,
        )  # fmt: skip
        verdicts.append(Verdict(each.name, found))
    return tuple(verdicts)


def _of_a_spec(name: str, order: PendingOrder, backend: Backend, clock: Clock) -> Verdict:
    """The verdict on a spec of the book; it is no if the spec's notes name what is avoided."""
    found = order.answered(backend, clock=clock, explain=Explain.CONFLICTS)
    if not found.objections:
        return Verdict(name, found.found, found)
    return Verdict(name, replace(found.found, status=Status.IMPOSSIBLE, answer=None), found)


@dataclass(frozen=True)
class _Waiting:
    """A guest whose request has been read, but not answered.

    `plain` and its problem are the request without comparisons; for a spec, with them, and `order`
    is set.
    """

    name: str
    request: Request
    plain: AskedDrink
    problem: Problem
    order: PendingOrder | None = None


def _waiting(
    guest: Guest, usual: str | None, files: Mapping[str, Path], bar: Bar, house: Request
) -> _Waiting:
    named = guest.profile or usual
    if named is None:
        what = f"{guest.name} names no profile"
        raise BadInput(what, remedy="Write profile = ..., or one for all as PROFILE.")
    request = house.and_also(read_request(written_of(guest), bar))
    meant = profile_or_spec(named, bar).meant if slug(named) not in files else None
    if isinstance(meant, Spec):
        if guest.goal is not None:
            what = f"{meant.name} is a spec, which stays as near as it can"
            raise BadInput(what, remedy="Leave out goal, or name a profile.")
        recipes = bar.not_cooked(line.ingredient for line in meant.pours)
        order = pending_order(meant, with_uncooked(bar, recipes) if recipes else bar, request)
        return _Waiting(guest.name, request, order.asked, order.asked.problem(), order)
    profile = meant or bar.profile(named)
    if guest.goal is not None:
        request = replace(request, goal=Goal(guest.goal))
    plain = AskedDrink.of(profile, bar, replace(request, steps=()))
    return _Waiting(guest.name, request, plain, plain.problem())


def written_of(guest: Guest) -> WrittenRequest:
    """A guest's request as written; without the goal."""
    return WrittenRequest(
        measures={name: getattr(guest, name) for name in asked_of(MEASURES.values())},
        wanted=guest.with_,
        unwanted=guest.without,
        character=guest.character,
        no_character=guest.no_character,
        words=guest.word,
        standard_drinks=guest.standard_drinks,
        beyond=guest.beyond,
        glass=guest.glass,
        steps=tuple(
            ComparedStep(word, by)
            for word in compared_of(MEASURES.values())
            if (by := getattr(guest, word)) is not None
        ),
    )
