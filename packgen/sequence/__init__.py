"""Pour order, days, batches, waiting times, calendar."""
