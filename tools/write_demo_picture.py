# SPDX-License-Identifier: Apache-2.0
"""Write docs/demo.png for the README: two pictures of the demo's report, one below the other.

Run it with the project's Python after the demo or its pictures change.
"""

from io import BytesIO
from pathlib import Path

import typst
from PIL import Image

from sumpwright.atomic import write_atomic
from sumpwright.report.draw import drawn
from sumpwright.report.lettering import FONT_FOLDER
from sumpwright.studies.check import check_with_bodies
from sumpwright.studies.staging import scene

ROOT = Path(__file__).parents[1]
TARGET = ROOT / "docs" / "demo.png"
KEYS = ("pan", "hold")
WIDE = 1200
"""px"""
LARGEST = 250_000
"""Bytes: a page that many people open."""
PAGE = b"""
#set page(width: 1000pt, height: auto, margin: 20pt)
#for key in ("pan", "hold") { image(bytes(sys.inputs.at(key)), format: "svg", width: 100%) }
"""


def demo_picture() -> bytes:
    """The PNG."""
    checked = check_with_bodies(ROOT / "examples" / "demo-b")
    shown = scene(checked)
    pictures = {key: (drawn(key, checked.result, shown) or b"").decode("utf-8") for key in KEYS}
    fonts = typst.Fonts(font_paths=[FONT_FOLDER])
    full = typst.compile(
        PAGE, format="png", ppi=72.0 * WIDE / 1000.0, font_paths=fonts, sys_inputs=pictures
    )
    small = BytesIO()  # 256 colours: the pictures use few, and the file is a third the size
    Image.open(BytesIO(full)).convert("RGB").quantize(256).save(small, "PNG", optimize=True)
    return small.getvalue()


if __name__ == "__main__":
    png = demo_picture()
    if len(png) > LARGEST:
        raise SystemExit(f"{len(png):,} bytes are more than the {LARGEST:,} allowed")
    write_atomic(TARGET, png)
    print(f"{TARGET.relative_to(ROOT)}: {len(png):,} bytes")
