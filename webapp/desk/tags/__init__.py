"""The lead's pages about tags and their labels."""
