"""The sample shop: invented vehicles, people and a year of jobs."""
