"""The walk through a job: its steps, what is missing, its hold points."""
