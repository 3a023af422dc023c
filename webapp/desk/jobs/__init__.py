"""The lead's pages about jobs."""
