"""Serving on the shop network."""

# Where the service and the demo listen unless told otherwise.
USUAL_PORT = 8700
