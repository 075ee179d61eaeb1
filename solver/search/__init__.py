"""The optimisation, on numbers alone: problems, exact evaluation, and proofs by two wings."""
