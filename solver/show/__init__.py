"""What people and programs read. Nothing is computed here."""
