"""Proof by integer programs, solved by CP-SAT and HiGHS: drinks by refined outer relaxations.

One drink
    `relaxation` writes integer rows that every drink of a problem satisfies: bins of the nonlinear
    terms as convex hulls (`term_rows`, `disjunction`), everything rounded outward (`outward_rows`).
    CP-SAT minimises them, the exact evaluator checks the drink, and the enclosures are refined
    until value and bound meet. `most_in_keeping_rows` and `set_rows` do the same for what is in
    keeping. This wing answers every question by itself where it is asked to (`--verify`, and in
    tests).

    Measured and therefore so: bins as a convex hull and not as switched rows; CP-SAT with linear
    relaxation to refute and without it to find; `presolve_inclusion_work_limit = 0`, without which
    OR-Tools 9.15 returned false optima (google/or-tools issue 5293); the compiled layer below
    `cp_model`, whose public module imports pandas (`load_ortools`).

Nights and menus
    `integer_program` is a linear program in whole numbers, which CP-SAT solves exactly.
    `cpsat_then_highs` asks CP-SAT as long as it is quick, then `relax_and_round`: HiGHS holds to
    whole numbers only what decides most (`Program.leads`), and its bound holds for the whole
    program. `choices_first` settles what is chosen first, then asks only for something better
    (objective cuts). HiGHS calculates in floats: its bound is lowered by a millionth, and CP-SAT
    brings its plans to whole numbers (`highs`).

Solvers come in by two doors: `backend.Backend` minimises the relaxation of a drink (`cpsat`; tests
have HiGHS and SCIP behind it, too), `integer_program.Solver` a program in whole numbers.
"""
