"""How large a photo may be: phones make it as small, and the shop takes none that is larger."""

MOST_PIXELS = 1600
MOST_BYTES = 3 * 1024 * 1024
