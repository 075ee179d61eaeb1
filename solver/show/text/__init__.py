"""What a terminal shows, and tables as CSV."""
