"""The client edition: a method statement that a main contractor or an insurer reads from the first page to the last."""
