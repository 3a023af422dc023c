"""Judgment: which values are plausible, and whether to act on what was worked out."""
