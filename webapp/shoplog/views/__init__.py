"""What the pages read of the log: projections and queries."""
