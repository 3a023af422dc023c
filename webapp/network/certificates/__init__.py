"""The shop's own certificate authority and what it issues."""
