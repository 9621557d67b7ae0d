# SPDX-License-Identifier: Apache-2.0
"""A sheet of drawing as DXF: the part in its true size, millimetres, dimensions as dimensions."""

import io
from typing import Any

from sumpwright.report.drawing import PLAIN, Item, Page, Path, Ring, Size, Words
from sumpwright.report.flat_dxf import without_the_time_of_day

LAYERS = {"OUTLINE": 7, "METAL": 7, "FINE": 8, "CENTRE": 1, "DIM": 5, "TEXT": 7, "FRAME": 8}
"""Layer and its colour by the format's own numbers."""
STYLE = "SHOP"
_ANCHOR = {"start": "LEFT", "middle": "CENTER", "end": "RIGHT"}


def page_dxf(page: Page) -> bytes:
    """The sheet; what is on paper at 1:k is here k times as large, so the part is true."""
    import ezdxf

    with without_the_time_of_day():
        doc = ezdxf.new("R2010", units=ezdxf.units.MM, setup=["linetypes"])
        doc.header["$MEASUREMENT"] = 1
        for name, colour in LAYERS.items():
            doc.layers.add(name, color=colour)
        doc.layers.get("CENTRE").dxf.linetype = "CENTER"
        doc.header["$LTSCALE"] = 0.4 * page.scale
        _style(doc, page)
        for item in page.items:
            _draw(doc.modelspace(), page.scale, item)
        stream = io.StringIO()
        doc.write(stream)
    return stream.getvalue().encode("utf-8")


def _style(doc: Any, page: Page) -> None:
    metric = page.units == "metric"
    style = doc.dimstyles.new(STYLE)
    given = {
        "dimscale": page.scale,
        "dimtxt": PLAIN,
        "dimasz": 2.2,
        "dimexo": 1.0,
        "dimexe": 1.5,
        "dimgap": 0.8,
        "dimtad": 1,
        "dimtih": 0,
        "dimtoh": 0,
        "dimzin": 8,
        "dimdec": 2 if metric else 3,
        "dimlfac": 1.0 if metric else 1.0 / 25.4,
        "dimdsep": ord("."),
        "dimclrd": 256,
        "dimclre": 256,
        "dimclrt": 256,
    }
    for name, value in given.items():
        style.set_dxf_attrib(name, value)


def _draw(space: Any, scale: float, item: Item) -> None:
    def big(spot: Any) -> tuple[float, float]:
        return scale * float(spot[0]), scale * float(spot[1])

    if isinstance(item, Path):
        for loop in item.loops:
            attributes = {"layer": item.layer}
            points = [big(p) for p in loop]
            space.add_lwpolyline(points, close=item.closed, dxfattribs=attributes)
    elif isinstance(item, Ring):
        radius = scale * item.radius
        space.add_circle(big(item.at), radius, dxfattribs={"layer": item.layer})
    elif isinstance(item, Words):
        from ezdxf.enums import TextEntityAlignment

        attributes = {"layer": "TEXT"}
        text = space.add_text(item.text, height=scale * item.height, dxfattribs=attributes)
        text.set_placement(big(item.at), align=TextEntityAlignment[_ANCHOR[item.anchor]])
    elif isinstance(item, Size):
        space.add_linear_dim(
            base=big(item.away),
            p1=big(item.a),
            p2=big(item.b),
            angle=90.0 if item.upright else 0.0,
            dimstyle=STYLE,
            dxfattribs={"layer": "DIM"},
        ).render()
