"""A name that is a profile's or a spec's, and what is answered where it is a spec's."""

from __future__ import annotations

from typing import TYPE_CHECKING

from solver.cli.exits import IMPOSSIBLE, exit_code
from solver.cli.options import only_with
from solver.cli.output import near, note, say
from solver.cli.progress import Progress

if TYPE_CHECKING:
    from solver.pantry.bar import Bar
    from solver.pantry.profile import Profile
    from solver.pantry.spec import Spec
    from solver.requests.request import Request
    from solver.tasks.respec.order import GuestOrder

_OF_A_PROFILE = ("goal", "dial", "feature", "alternatives", "as_in_keeping_as")


def profile_or_spec(name: str, bar: Bar) -> Profile | Spec:
    """What is meant; where it can be either, the profile, and it is said how to name the spec.

    Raises:
        BadInput, BadInputs: it is neither, or its file is wrong.
    """
    from solver.tasks.profile_or_spec import profile_or_spec

    found = profile_or_spec(name, bar)
    if found.spec_file is not None:
        said = near(found.spec_file)
        note(f"'{name}' is a profile and a spec: this is the profile; write {said} for the spec")
    only_with(found.is_profile, "a profile; a spec stays as near as it can", *_OF_A_PROFILE)
    return found.meant


def with_uncooked_of(spec: Spec, bar: Bar) -> Bar:
    """The bar with what a spec pours and nobody has cooked yet.

    Raises:
        BadInput, BadInputs: a recipe is wrong.
    """
    recipes = bar.not_cooked(line.ingredient for line in spec.pours)
    if not recipes:
        return bar
    from solver.tasks.prep.uncooked import with_uncooked

    return with_uncooked(bar, recipes)


def ordered(
    spec: Spec, bar: Bar, request: Request, task: str, *, verify: bool, why: bool, as_json: bool
) -> tuple[GuestOrder, int]:
    """Answer an order, and say which code it ends with."""
    from solver.search.milp.cpsat import CpSat
    from solver.show.documents.ordered import order_json
    from solver.show.text.check import verdict_words
    from solver.show.text.ordered import order_text
    from solver.tasks.design_result import Explain
    from solver.tasks.respec.order import order

    bar = with_uncooked_of(spec, bar)
    explain = Explain.EVERYTHING if why else Explain.CONFLICTS
    with Progress(quiet=as_json) as progress:
        clock = progress.clock(request.seconds)
        found = order(spec, bar, request, CpSat(), explain=explain, verify=verify, clock=clock)
    if as_json:
        say(order_json(task, found, bar), whole=True)
    else:
        words = "No" if found.objections else verdict_words(found.found)
        first = f"{words}.\n\n" if task == "check" else ""
        say(f"{first}{order_text(found, bar, everything=why)}", whole=False)
    return found, IMPOSSIBLE if found.objections else exit_code(found.found)
