"""The lead's pages about vehicles."""
