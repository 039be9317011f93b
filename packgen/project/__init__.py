"""The project file: text to a marked tree to checked frozen records."""
