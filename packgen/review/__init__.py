"""Small checks over the finished plan: stops, cautions and notes."""
