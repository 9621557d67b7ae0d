# SPDX-License-Identifier: Apache-2.0
"""Colours of the report, one meaning each; every meaning is also said by a word, dash or stripe."""

INK = "#17212b"
MUTED = "#55616e"
RULE = "#c4ccd4"
PAPER = "#ffffff"
FAINT = "#eef1f4"

NEW = "#0a4f96"
STOCK = "#6d6a66"
STOCK_DASH = (7.0, 4.0)
OIL = "#e6b455"
OIL_LINE = "#8a5a06"
CRANK = "#dfe3e8"
PICKUP = "#17212b"
BODY = "#a39e97"
STEEL = "#b9c2cb"

STATE_INK = {"met": "#0b5f54", "not met": "#a02313", "not judged": "#55616e"}

# Far to near: pale to dark, one hue, so that it reads in grey and by every kind of eye.
GAP_BANDS = ("#0b2f63", "#2765a8", "#6fa3d2", "#aecbe5", "#e3ecf4")
GAP_STEPS = (1.5, 2.0, 3.0, 5.0)
"""Band edges as multiples of the gap asked for."""
TOO_CLOSE = ("#f4c20d", "#111111")
"""Hazard stripes: closer than the gap asked for."""


def rgb(colour: str) -> tuple[int, int, int]:
    """Red, green and blue, 0 to 255, of ``#rrggbb``."""
    return int(colour[1:3], 16), int(colour[3:5], 16), int(colour[5:7], 16)
