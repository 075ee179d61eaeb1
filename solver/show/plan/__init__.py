"""A plan as text, as a document for programs, and on a page."""
