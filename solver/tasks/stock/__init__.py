"""Stock movements: counted in and out, sold, logged, undone."""
