"""The dialect of the arithmetic and its translation for the phone."""
