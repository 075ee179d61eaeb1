"""CP-SAT on relaxations of a drink.

The model goes in through `cp_model_helper`, the compiled layer under `cp_model`: the public module
imports pandas, which costs more than most of our solves.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from solver.clock import Clock
from solver.search.milp.backend import Effort, Outcome, SolverStatus
from solver.search.milp.load_ortools import cp_sat

if TYPE_CHECKING:
    from solver.search.milp.relaxation import Relaxation

OVERRUN_S = 5e-7
"""Seconds by which CP-SAT overruns its time limit, for each number of the model: measured on models
of 300,000 and 800,000."""


class CpSat:
    """CP-SAT with one worker and a fixed seed: same model, same answer.

    `presolve_inclusion_work_limit = 0` is for soundness: OR-Tools 9.15 otherwise returned false
    optima (google/or-tools issue 5293).
    """

    @property
    def name(self) -> str:
        """Name and version, for the proof line."""
        import ortools

        return f"CP-SAT {ortools.__version__}"

    def minimise(self, relaxation: Relaxation, effort: Effort) -> Outcome:
        """Minimise the relaxation's objective.

        Raises:
            TimeUpError: there was no time to hand the model over.
        """

        clock = Clock.of(effort.seconds, effort.watch)
        model = _proto(relaxation, clock)
        numbers = sum(len(row.variables) for row in relaxation.rows.rows)
        seconds = max(0.0, clock.left - OVERRUN_S * numbers)
        parameters = steady_parameters(seconds, effort.work)
        # Measured: the linear relaxation slows the search for a drink and speeds its refutation.
        parameters.linearization_level = 1 if effort.proof else 0
        response, interrupted = solved(model, parameters, clock)
        return _outcome(relaxation, response, interrupted=interrupted)


def steady_parameters(seconds: float, work: float) -> Any:
    """CP-SAT with one worker and a fixed seed, sound, within so many seconds and so much work.

    `work` is in deterministic seconds.
    """
    cmh = cp_sat()

    parameters = cmh.SatParameters()
    parameters.num_workers = 1
    parameters.random_seed = 1
    parameters.presolve_inclusion_work_limit = 0
    parameters.catch_sigint_signal = False
    parameters.max_time_in_seconds = seconds
    parameters.max_deterministic_time = work
    return parameters


def solved(model: Any, parameters: Any, clock: Clock) -> tuple[Any, bool]:
    """The response, and whether the user stopped the solver.

    It runs beside the main thread, which alone sees an interrupt. Left to itself CP-SAT catches
    it and returns as if its time had run out, which it also does without one.
    """
    from concurrent.futures import ThreadPoolExecutor

    cmh = cp_sat()

    wrapper: Any = cmh.SolveWrapper()
    wrapper.set_parameters(parameters)
    with ThreadPoolExecutor(max_workers=1) as beside:
        running = beside.submit(wrapper.solve, model)
        try:
            return clock.wait(running), False
        except KeyboardInterrupt:
            wrapper.stop_search()
            return running.result(), True


def _proto(relaxation: Relaxation, clock: Clock) -> Any:
    cmh = cp_sat()

    model = cmh.CpModelProto()
    for variable in relaxation.rows.variables:
        added = model.variables.add()
        added.domain.extend([variable.low, variable.high])
    for row in relaxation.rows.rows:
        clock.check()
        linear = model.constraints.add().linear
        linear.vars.extend(row.variables)
        linear.coeffs.extend(row.coefficients)
        linear.domain.extend([-(2**62), row.upper])
    model.objective.vars.append(relaxation.objective)
    model.objective.coeffs.append(1)
    return model


def _outcome(relaxation: Relaxation, response: Any, *, interrupted: bool) -> Outcome:
    name = response.status.name
    bound = response.best_objective_bound / relaxation.objective_scale
    if name == "INFEASIBLE":
        return Outcome(SolverStatus.INFEASIBLE, None, float("inf"))
    if name in {"OPTIMAL", "FEASIBLE"}:
        decisions = tuple(int(response.solution[k]) for k in range(len(relaxation.picks)))
        return Outcome(SolverStatus[name], decisions, bound, interrupted)
    if name == "UNKNOWN":
        return Outcome(SolverStatus.UNKNOWN, None, bound, interrupted)
    message = f"CP-SAT refused the outer model: {name} {response.solution_info}"
    raise RuntimeError(message)
