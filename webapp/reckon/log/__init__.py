"""From entries to the sheet of a round."""
