"""A plan on a page, and as a workbook."""
