"""Serving on the shop network."""
