"""Why: what cannot hold together, and what binds. Knows neither drinks nor files."""
