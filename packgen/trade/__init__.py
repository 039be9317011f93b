"""Published values, each with its source, clause and how it is known, and typed look-ups by rule set."""
