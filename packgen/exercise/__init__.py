"""Class sets: varied projects, blanks, answers, marking."""
