"""equipour: design mixed drinks from the shelf, and prove the result."""
