"""The lead's pages and forms."""
