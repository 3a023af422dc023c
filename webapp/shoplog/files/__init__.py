"""Photos and other files beside the log: atomic writes, locks, reserves."""
