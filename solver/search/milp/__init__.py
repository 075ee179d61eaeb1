"""Proof by integer programs: outer relaxations, solved by CP-SAT, HiGHS or SCIP, and refined."""
