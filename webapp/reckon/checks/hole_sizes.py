"""Reference sizes for comparison: close-fit holes and edge distances, each with its confidence.

Not a substitute for the standards, nor for the maker of the vehicle. Confidence: "two" independent
sources agree, or "one" source only. Holes in mm are the least of their class; inch holes are exact.
"""

# Bolt, nominal diameter mm, close-fit hole mm, thread pitches mm (coarse, then fine), confidence.
METRIC_SOURCE = "iso_273_fine"
METRIC_HOLES: list = [
    ["M6", 6, 6.4, [1.0], "two"],
    ["M7", 7, 7.4, [1.0], "two"],
    ["M8", 8, 8.4, [1.25, 1.0], "two"],
    ["M10", 10, 10.5, [1.5, 1.25], "two"],
    ["M12", 12, 13, [1.75, 1.5], "two"],
    ["M14", 14, 15, [2.0, 1.5], "two"],
    ["M16", 16, 17, [2.0, 1.5], "two"],
    ["M18", 18, 19, [2.5, 2.0], "one"],
    ["M20", 20, 21, [2.5, 2.0], "two"],
    ["M22", 22, 23, [2.5, 2.0], "one"],
    ["M24", 24, 25, [3.0, 2.0], "two"],
    ["M27", 27, 28, [3.0, 2.0], "one"],
    ["M30", 30, 31, [3.5, 2.0], "two"],
]
INCH_SOURCE = "asme_b18_2_8_close"
INCH_HOLES: list = [
    ["1/4 in", 6.35, 6.7469, [1.27, 0.9071], "two"],
    ["5/16 in", 7.9375, 8.3344, [1.4111, 1.0583], "two"],
    ["3/8 in", 9.525, 9.9219, [1.5875, 1.0583], "two"],
    ["7/16 in", 11.1125, 11.5094, [1.8143, 1.27], "two"],
    ["1/2 in", 12.7, 13.4937, [1.9538, 1.27], "two"],
    # Between its neighbors: the standard has no row for it.
    ["9/16 in", 14.2875, 15.0812, [2.1167, 1.4111], "one"],
    ["5/8 in", 15.875, 16.6687, [2.3091, 1.4111], "two"],
    ["3/4 in", 19.05, 19.8438, [2.54, 1.5875], "two"],
    ["7/8 in", 22.225, 23.0187, [2.8222, 1.8143], "two"],
    ["1 in", 25.4, 26.1937, [3.175, 2.1167], "two"],
    ["1 1/8 in", 28.575, 29.3687, [3.6286, 2.1167], "one"],
    ["1 1/4 in", 31.75, 32.5437, [3.6286, 2.1167], "one"],
]
# Bolt diameter mm, least distance from the center of a standard hole to the edge mm, confidence;
# by the AISC's minimum edge distances.
EDGES: list = [
    [12.7, 19.05, "one"],
    [15.875, 22.225, "two"],
    [16, 22, "one"],
    [19.05, 25.4, "two"],
    [20, 26, "one"],
    [22, 28, "one"],
    [22.225, 28.575, "two"],
    [24, 30, "one"],
    [25.4, 31.75, "two"],
    [27, 34, "one"],
    [28.575, 38.1, "two"],
    [30, 38, "one"],
    [31.75, 41.275, "two"],
    [36, 46, "one"],
]
