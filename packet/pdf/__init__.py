"""PDF: the only place that knows reportlab. Takes finished sheets, writes a file."""
