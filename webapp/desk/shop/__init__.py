"""The lead's pages about the shop itself."""
