"""What the arithmetic works out of a sheet, one subject a module."""
