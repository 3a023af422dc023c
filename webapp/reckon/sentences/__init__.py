"""The only place that makes words, from values and codes."""
