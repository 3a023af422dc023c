"""The walk's track bar step: what it asks for and its names, those for lever arms included."""

from .link_steps import together
from .steps import BAR_ASKS, BAR_NAMES

# Nothing but the lever arms of a plan needs these: no step is incomplete without them.
LEVER_ASKS = {
    "axle_tube_height": (
        "Floor to the center of the axle tube, by the bracket of the axle end. Only needed "
        "to compare lever arms."
    ),
    "rail_height": (
        "Floor to the underside of the rail, by the bracket of the frame end. Only needed "
        "to compare lever arms."
    ),
}
LEVER_NAMES = {"axle_tube_height": "Axle tube height", "rail_height": "Rail height"}
READING_ASKS = together([BAR_ASKS, LEVER_ASKS])
READING_NAMES = together([BAR_NAMES, LEVER_NAMES])
