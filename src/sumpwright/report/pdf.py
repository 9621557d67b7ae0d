# SPDX-License-Identifier: Apache-2.0
"""The report as a PDF on A4, by typst: fonts and pictures inside, nothing fetched."""

import json
from datetime import datetime
from pathlib import Path

from sumpwright.report.alt import alt_of
from sumpwright.report.content import Content
from sumpwright.report.lettering import FONT_FOLDER


def pdf_of(
    content: Content, pictures: dict[str, bytes], *, made: datetime, order: str = "page.typ"
) -> bytes:
    """The pages, put together as `order` says.

    The person's words go in as data, so none of them can be taken for markup.
    """
    import typst

    page = b"\n".join((Path(__file__).parent / name).read_bytes() for name in ("block.typ", order))
    said = {**content.as_json(), "alt": {key: alt_of(svg) for key, svg in pictures.items()}}
    words = json.dumps(said, ensure_ascii=True, allow_nan=False)
    fonts = typst.Fonts(font_paths=[FONT_FOLDER])
    pdf = typst.compile(
        page,
        format="pdf",
        font_paths=fonts,
        sys_inputs={"content": words, **{k: svg.decode("utf-8") for k, svg in pictures.items()}},
        timestamp=int(made.timestamp()),
    )
    return bytes(pdf)
