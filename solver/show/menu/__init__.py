"""A menu for people, spreadsheets and programs."""
