"""Documents for programs: what `--json` prints, one module for each question."""
