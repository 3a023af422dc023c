"""The arithmetic of the trade: pure, and the same on the phone, the desk and the command line."""
