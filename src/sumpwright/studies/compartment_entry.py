# SPDX-License-Identifier: Apache-2.0
"""Compartments to the cache and back, digit by digit."""

from dataclasses import asdict, fields
from typing import Any

import numpy as np
from numpy.typing import NDArray

from sumpwright.geometry.compartment import Compartments
from sumpwright.geometry.compartment_note import Note
from sumpwright.geometry.link import Link
from sumpwright.geometry.mesh import Mesh
from sumpwright.geometry.panel import Door
from sumpwright.studies.cache import Entry

_POINTS = ("polygon", "centroid", "lowest", "highest", "normal", "edge")
"""Fields of a link that are arrays."""
_WHOLE = ("names", "hints", "panel_volume", "solid_volume")


def compartments_entry(parts: Compartments) -> Entry:
    """Compartments as an entry of the cache."""
    arrays: dict[str, NDArray[Any]] = {}
    for k, body in enumerate(parts.bodies):
        arrays |= {f"body {k} vertices": body.vertices, f"body {k} faces": body.faces}
    for k, link in enumerate(parts.links):
        given = {name: getattr(link, name) for name in _POINTS}
        arrays |= {f"link {k} {name}": a for name, a in given.items() if a is not None}
    data = {
        "bodies": len(parts.bodies),
        "links": [_plain(link) for link in parts.links],
        "notes": [asdict(note) for note in parts.notes],
        "whole": [getattr(parts, name) for name in _WHOLE],
    }
    return Entry(arrays, data)


def _plain(link: Link) -> dict[str, Any]:
    said = {f.name: getattr(link, f.name) for f in fields(link) if f.name not in _POINTS}
    return {**said, "door": None if link.door is None else asdict(link.door)}


def entry_compartments(entry: Entry) -> Compartments:
    """Back from `compartments_entry`."""
    data, arrays = entry.data, entry.arrays
    bodies = (
        Mesh(arrays[f"body {k} vertices"], arrays[f"body {k} faces"]) for k in range(data["bodies"])
    )
    names, hints, panel_volume, solid_volume = data["whole"]
    return Compartments(
        bodies=tuple(bodies),
        names=tuple(names),
        hints=tuple(hints),
        links=tuple(_link(said, entry, k) for k, said in enumerate(data["links"])),
        notes=tuple(Note(**said) for said in data["notes"]),
        panel_volume=panel_volume,
        solid_volume=solid_volume,
    )


def _link(said: dict[str, Any], entry: Entry, number: int) -> Link:
    points = {
        name: np.asarray(entry.arrays[f"link {number} {name}"])
        for name in _POINTS
        if f"link {number} {name}" in entry.arrays
    }
    door = None if said["door"] is None else Door(**said["door"])
    return Link(**{**said, **points, "door": door})
