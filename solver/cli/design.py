"""`equipour design`: the best drink of a profile."""

from __future__ import annotations

import sys
from typing import TYPE_CHECKING

import click

from solver.cli.complete import complete_target
from solver.cli.exits import exit_code
from solver.cli.options import NOT_PROVEN, json_option, only_with, unproven_option
from solver.cli.ordered import ordered, profile_or_spec
from solver.cli.output import near, note, say
from solver.cli.progress import Progress
from solver.cli.request_options import alternatives_option, floor_option, request_options

if TYPE_CHECKING:
    from solver.files.atomic import FilePlace
    from solver.pantry.bar import Bar
    from solver.pantry.spec import Spec
    from solver.requests.request import Request
    from solver.tasks.design_result import Design


@click.command()
@click.argument("profile", shell_complete=complete_target)
@request_options
@alternatives_option
@floor_option
@click.option("--save", "name", help="Write the answer into the bar's specs under this name.")
@click.option("--replace", is_flag=True, help="Let --save write over a spec that is there.")
@unproven_option
@click.option("--verify", is_flag=True, help="Have a second solver prove it too.")
@click.option("--why", is_flag=True, help="Say of every limit whether it holds the drink back.")
@json_option
def design(
    profile: str,
    bar: Bar,
    request: Request,
    name: str | None,
    replace: bool,
    unproven: bool,
    verify: bool,
    why: bool,
    as_json: bool,
) -> None:
    """The best drink of a PROFILE that the shelf can make; of a spec, the nearest as asked."""
    from solver.pantry.spec import Spec
    from solver.search.milp.cpsat import CpSat
    from solver.tasks.design import design_as_asked as solve
    from solver.tasks.design_result import Explain

    only_with(name is not None, "--save", "replace", "unproven")
    place = None if name is None else _place(name, bar, replace=replace)
    target = profile_or_spec(profile, bar)
    if isinstance(target, Spec):
        order, code = ordered(
            target, bar, request, "design", verify=verify, why=why, as_json=as_json
        )
        if name is not None and place is not None:
            from solver.tasks.respec.order import spec_of_order

            spec = spec_of_order(order, name, bar)
            _save(order.found, spec, place, bar, unproven=unproven)
        sys.exit(code)
    explain = Explain.EVERYTHING if why else Explain.LIMITS
    with Progress(quiet=as_json) as progress:
        clock = progress.clock(request.seconds)
        found = solve(target, bar, request, CpSat(), clock=clock, verify=verify, explain=explain)
    say(_said(found, bar, why=why, as_json=as_json), whole=as_json)
    if name is not None and place is not None:
        from solver.tasks.save import spec_of_answer

        answer = found.answer
        spec = spec_of_answer(found, answer, name, bar, bar.today) if answer else None
        _save(found, spec, place, bar, unproven=unproven)
    sys.exit(exit_code(found))


def _place(name: str, bar: Bar, *, replace: bool) -> FilePlace:
    """Where the answer is to be written, before anything is searched."""
    from solver.tasks.save import place_for

    return place_for(name, bar, replace=replace)


def _said(found: Design, bar: Bar, *, why: bool, as_json: bool) -> str:
    """The document, or the text; what makes the other is not imported."""
    if as_json:
        from solver.show.documents.design import design_json

        return design_json(found, bar)
    from solver.show.text.design import design_text

    return design_text(found, bar, everything=why)


def _save(found: Design, spec: Spec | None, place: FilePlace, bar: Bar, *, unproven: bool) -> None:
    """Write the answer as a spec and say where, or say why not, on standard error."""
    from solver.pantry.spec_file import write_spec
    from solver.tasks.design_result import Status

    if found.interrupted:
        note("nothing was saved, as it was interrupted")
        return
    if spec is None:
        note("nothing was saved, as nothing was found")
        return
    if found.far_off:
        note("nothing was saved, as nothing is near what was asked for")
        return
    if found.status is not Status.OPTIMAL and not unproven:
        note(f"nothing was saved, as it is not proven best: {NOT_PROVEN}")
        return
    raw = sorted(bar.uncooked & {pour.ingredient for pour in spec.pours})
    if raw:  # nobody could have approved what nobody could have poured
        spec = spec.model_copy(update={"approved": None})
    write_spec(spec, place, bar.root)
    draft = f", a draft: {' and '.join(raw)} is not cooked yet" if raw else ""
    note(f"saved in {near(place.path)}{draft}")
