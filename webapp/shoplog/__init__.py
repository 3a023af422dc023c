"""The shop log: the only place that knows SQLite."""
