"""Cards: a drink on a page, as HTML, SVG, PDF and plain text."""
