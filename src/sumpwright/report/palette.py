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


# Lines told apart by hue, lightness and dash together; every one also carries its name.
LINES = (
    "#0f4c81", "#c96a12", "#2f8f83", "#7d2e68", "#8c8a1f", "#8e2018", "#5f6fb0", "#17212b",
)  # fmt: skip
DASHES: tuple[tuple[float, ...], ...] = ((), (8.0, 3.0), (2.5, 2.5), (10.0, 3.0, 2.5, 3.0))

AIR = "#b3311c"
AIR_PALE = "#f7ddd6"
"""Air at the pickup; the word stands beside it, or a mark over it."""
SPAN = ("#e4e9ee", "#f2f4f7")
"""Parts of a manoeuvre in turn."""

# Soon to late: dark to pale, so that it reads in grey and by every kind of eye.
HOLD_BANDS = ("#2d0d0b", "#6b1f12", "#a8451a", "#d47d2c", "#ebb566", "#f7e3b8")
HOLD_NEVER = "#d3e6ec"
HOLD_NEVER_LINE = "#6f98a8"
"""Covered to the end of the look: pale, and striped, so that it is not taken for a late one."""

# Compartments. Pale, and each with its letter; neighbours are parted by an ink line. After Paul
# Tol's light scheme for every kind of eye, from memory.
TINTS = (
    "#99ddff", "#eedd88", "#77aadd", "#ffaabb", "#dddddd", "#44bb99", "#bbcc33", "#ee8866",
)  # fmt: skip
