# SPDX-License-Identifier: Apache-2.0
"""Write out/feed.html and out/feed.pdf of a job, each whole or not at all."""

from datetime import datetime
from pathlib import Path

from sumpwright.atomic import write_atomic, write_problem
from sumpwright.errors import InputError
from sumpwright.report.feed_content import feed_content, feed_pictures
from sumpwright.report.feed_page import feed_html
from sumpwright.report.pdf import pdf_of
from sumpwright.studies.feed_result import FeedResult


def write_feed(result: FeedResult, folder: Path) -> tuple[Path, Path]:
    """The paths of the HTML and the PDF in `folder`'s out/."""
    out = folder / "out"
    made = datetime.now().astimezone().replace(microsecond=0)
    content, pictures = feed_content(result, made=made), feed_pictures(result.feed, result.units)
    page = feed_html(content, pictures)
    pdf = pdf_of(content, pictures, made=made, order="feed.typ")
    try:
        out.mkdir(exist_ok=True)
    except OSError as err:
        raise InputError([write_problem(out, err)]) from err
    write_atomic(out / "feed.html", page)
    write_atomic(out / "feed.pdf", pdf)
    return out / "feed.html", out / "feed.pdf"
