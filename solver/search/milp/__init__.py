"""Proof by integer programs: outer relaxations, solved by CP-SAT, HiGHS or SCIP, and refined.

One drink
    `relaxation` writes integer rows that every drink of a problem satisfies: bins of the nonlinear
    terms as convex hulls (`disjunction`), everything rounded outward (`rows`). CP-SAT minimises
    them, the exact evaluator checks the drink, and the enclosures are refined until value and bound
    meet. `in_keeping_rows` and `set_rows` do the same for what is in keeping. This wing answers
    every question by itself where it is asked to (`--verify`, and in tests).

    Measured and therefore so: bins as a convex hull and not as switched rows; CP-SAT with linear
    relaxation to refute and without it to find; `presolve_inclusion_work_limit = 0`, without which
    OR-Tools 9.15 returned false optima (google/or-tools issue 5293); the compiled layer below
    `cp_model`, whose public module imports pandas (`compiled`).

Nights and menus
    `integer_program` is a linear program in whole numbers, which CP-SAT solves exactly.
    `together` has the order of solvers: CP-SAT as long as it is quick, then `roughly`: HiGHS holds
    to whole numbers only what decides most (`Program.leads`), and its bound holds for the whole
    program. `narrowing` settles what is chosen first. A solver in floats has its bound lowered by a
    millionth, and its plans are brought to whole numbers by CP-SAT (`in_floats`).

`backend` is what is asked of any solver, `cpsat` and `mathopt` are the adapters.
"""
