# SPDX-License-Identifier: Apache-2.0
"""A picture from a scanner or camera as a grey field, refused in one sentence where it is none."""

import warnings
from pathlib import Path

import numpy as np
from numpy.typing import NDArray

from sumpwright.errors import InputError, Problem

MOST_BYTES = 2**28
MOST_ELEMENTS = 80_000_000
"""A3 at 600 dpi has 70 million."""
FORMATS = ("PNG", "JPEG", "TIFF")


def grey_picture(path: Path) -> NDArray[np.float32]:
    """(h, w) of 0 black to 1 white; InputError RAIL-506 or RAIL-507 where it cannot be read.

    A camera's note of how it was held is followed, so that pixels count as a viewer shows them.
    """
    from PIL import Image, ImageOps

    if not path.is_file():
        found = "a folder" if path.is_dir() else "no such file"
        raise InputError([_unreadable(path, found)])
    size = path.stat().st_size
    if size > MOST_BYTES:
        raise InputError([_too_large(path, f"a file of {size / 2**20:,.0f} MiB")])
    try:
        with warnings.catch_warnings():
            warnings.simplefilter("ignore")  # the size is judged below, before anything is unpacked
            with Image.open(path, formats=FORMATS) as picture:
                if picture.width * picture.height > MOST_ELEMENTS:
                    found = f"{picture.width} x {picture.height} picture elements"
                    raise InputError([_too_large(path, found)])
                shown = ImageOps.exif_transpose(picture)
                return _grey(shown)
    except Image.DecompressionBombError as err:
        raise InputError([_too_large(path, "more picture elements than a picture has")]) from err
    except (OSError, SyntaxError, ValueError, MemoryError, EOFError) as err:
        raise InputError([_unreadable(path, "no picture that can be read")]) from err


def _grey(picture: object) -> NDArray[np.float32]:
    """Light as the eye weighs it; 16-bit and clear pictures too."""
    from PIL import Image

    assert isinstance(picture, Image.Image)
    if picture.mode in ("I;16", "I;16B", "I;16L", "I", "F"):
        deep = np.asarray(picture, dtype=np.float32)
        top = float(deep.max(initial=0.0)) or 1.0
        return np.asarray(np.clip(deep / top, 0.0, 1.0), dtype=np.float32)
    if picture.mode in ("RGBA", "LA", "PA") or "transparency" in picture.info:
        clear = picture.convert("RGBA")
        white = Image.new("RGBA", clear.size, "white")
        picture = Image.alpha_composite(white, clear)
    return np.asarray(picture.convert("L"), dtype=np.float32) / np.float32(255.0)


def _unreadable(path: Path, found: str) -> Problem:
    return Problem(
        "RAIL-506",
        str(path),
        found,
        "a PNG, JPEG or TIFF picture",
        "check the path, or save it again from the scanner's or camera's program",
    )


def _too_large(path: Path, found: str) -> Problem:
    return Problem(
        "RAIL-507",
        str(path),
        found,
        f"at most {MOST_ELEMENTS / 1e6:.0f} million picture elements and "
        f"{MOST_BYTES / 2**20:.0f} MiB",
        "scan at 300 dpi, or save it smaller",
    )
