# SPDX-License-Identifier: Apache-2.0
"""A sheet of drawing as DXF: the part in its true size, millimetres, dimensions as dimensions."""

import io
from typing import Any

from sumpwright.report.drawing import PLAIN, WIDTHS, Item, Page, Path, Ring, Size, Words
from sumpwright.report.drawing_size import layout
from sumpwright.report.flat_dxf import without_the_time_of_day

LAYERS = {
    "FILL": 254, "OUTLINE": 7, "METAL": 7, "FINE": 8, "CENTRE": 1, "DIM": 5, "TEXT": 7, "FRAME": 8,
}  # fmt: skip
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
            width = round(100.0 * WIDTHS.get(name, WIDTHS["FINE"]))
            doc.layers.add(name, color=colour, lineweight=width)
        doc.layers.get("CENTRE").dxf.linetype = "CENTER"
        doc.header["$LTSCALE"] = 0.4 * page.scale
        doc.header["$LWDISPLAY"] = 1
        _style(doc, page)
        for item in page.items:
            _draw(doc.modelspace(), page, item)
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
        "dimlwd": -1,
        "dimlwe": -1,
    }
    for name, value in given.items():
        style.set_dxf_attrib(name, value)


def _draw(space: Any, page: Page, item: Item) -> None:
    scale = page.scale

    def big(spot: Any) -> tuple[float, float]:
        return scale * float(spot[0]), scale * float(spot[1])

    if isinstance(item, Path):
        loops = [[big(p) for p in loop] for loop in item.loops]
        if item.layer == "METAL":
            _fill(space, loops)
        for points in loops:
            space.add_lwpolyline(points, close=item.closed, dxfattribs={"layer": item.layer})
    elif isinstance(item, Ring):
        radius = scale * item.radius
        space.add_circle(big(item.at), radius, dxfattribs={"layer": item.layer})
    elif isinstance(item, Words):
        from ezdxf.enums import TextEntityAlignment

        attributes = {"layer": "TEXT"}
        text = space.add_text(item.text, height=scale * item.height, dxfattribs=attributes)
        text.set_placement(big(item.at), align=TextEntityAlignment[_ANCHOR[item.anchor]])
    elif isinstance(item, Size):
        _size(space, page, item)


def _fill(space: Any, loops: list[list[tuple[float, float]]]) -> None:
    """Metal, filled between its loops."""
    hatch = space.add_hatch(color=256, dxfattribs={"layer": "FILL", "hatch_style": 0})
    for k, points in enumerate(loops):
        hatch.paths.add_polyline_path(points, is_closed=True, flags=1 if k == 0 else 16)


def _size(space: Any, page: Page, item: Size) -> None:
    """A dimension that measures the part; its figure where the sheet on paper has it."""
    how = layout(item, page.size_text(item))
    k = 1 if item.upright else 0
    # measured downward, its heads would stand outside and its figure on the line
    first, second = sorted((item.a, item.b), key=lambda spot: spot[k])
    dim = space.add_linear_dim(
        base=tuple(page.scale * v for v in item.away),
        p1=tuple(page.scale * v for v in first),
        p2=tuple(page.scale * v for v in second),
        angle=90.0 if item.upright else 0.0,
        dimstyle=STYLE,
        dxfattribs={"layer": "DIM"},
    )
    if how.tight or item.share != 0.5:
        dim.set_location(tuple(page.scale * float(v) for v in how.text_middle))
    dim.render()
    for part in dim.dimension.get_geometry_block():
        if part.dxf.layer == "0":  # lines of a dimension are drawn as its own layer says
            part.dxf.layer = "DIM"
