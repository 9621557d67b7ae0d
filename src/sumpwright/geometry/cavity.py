# SPDX-License-Identifier: Apache-2.0
"""Cavities made from other bodies: a shell closed at the rail, a pan's hollow, a raised crankcase.

The cavity left inside a pan's outside by a wall is in `wall`; the inside test in `inside`.
"""

import numpy as np
from numpy.typing import ArrayLike, NDArray

from sumpwright.errors import InputError
from sumpwright.geometry import cavity_problem
from sumpwright.geometry.edge import Ints, is_closed, open_sides, pieces, sides_of, welded
from sumpwright.geometry.inside import inside as inside
from sumpwright.geometry.mesh import Mesh, Points
from sumpwright.geometry.plane_cut import below_plane, cap_faces, cap_of_top

_UP = (0.0, 0.0, 1.0)
SLACK = 1e-6
"""Heights that differ by less are one plane [m]: single-precision files in mm round to 3e-5 mm."""


def capped(shell: Mesh, up: ArrayLike = _UP, height: float = 0.0, *, slack: float = SLACK) -> Mesh:
    """The closed cavity that an open shell makes with the rail plane.

    What stands above the plane is trimmed; the opening is closed with a flat cap. Faces of the
    result point out of the cavity, whichever way the shell's did. A closed body is trimmed.

    Parameters
    ----------
    shell : Mesh [m]
        Inside skin of a pan, open at the top; posts may stand up through the opening.
    up : (3,) [-]
        Normal of the rail plane, of any length.
    height : float [m]
        The plane is where up.x is this (up taken as a unit vector).
    slack : float [m]
        A rim this little below the plane is moved up to it.

    Returns
    -------
    cavity : Mesh [m]
        Closed, of positive volume.

    Raises
    ------
    InputError
        GEO-251 where the rim dips below the plane, GEO-252 holes below it, GEO-253 no opening at
        the plane, GEO-254 neighbouring skins that face different ways.
    """
    normal = np.asarray(up, dtype=float) / np.linalg.norm(up)
    below, on = below_plane(welded(shell), normal, height=height, slack=slack)
    rims = _rims_on_plane(below, on, normal, height)
    return _closed(below, rims, normal)


def hollow(solid: Mesh, up: ArrayLike = _UP, height: float = 0.0, *, slack: float = SLACK) -> Mesh:
    """The cavity inside a pan that was drawn as solid metal.

    Parameters
    ----------
    solid : Mesh [m]
        Closed; the metal of a pan, open at the rail plane.
    up : (3,) [-]
        Normal of the rail plane, of any length.
    height : float [m]
        The plane is where up.x is this (up taken as a unit vector).
    slack : float [m]
        Metal this little below the plane still reaches it.

    Returns
    -------
    cavity : Mesh [m]
        Closed, of positive volume; several pieces where the metal has several hollows.

    Raises
    ------
    InputError
        GEO-251 to GEO-254 as `capped`; GEO-255 where nothing hollow opens to the plane, such as
        when a drain hole joins inside and outside.
    """
    normal = np.asarray(up, dtype=float) / np.linalg.norm(up)
    below, on = below_plane(welded(solid), normal, height=height, slack=slack)
    rims = _rims_on_plane(below, on, normal, height)
    piece = pieces(sides_of(below.faces), len(below.vertices))
    ends = below.vertices[rims] - below.vertices[rims[0, 0]]
    turning = np.cross(ends[:, 0], ends[:, 1]) @ normal
    area = -0.5 * np.bincount(piece[rims[:, 0]], turning, minlength=piece.max() + 1)
    inward = np.flatnonzero(area < 0)  # skins that face into what they surround
    if not len(inward):
        raise InputError([cavity_problem.no_hollow()])
    skin = Mesh(below.vertices, below.faces[np.isin(piece[below.faces[:, 0]], inward)])
    return _closed(skin, rims[np.isin(piece[rims[:, 0]], inward)], normal)


def with_crankcase(cavity: Mesh, height: float) -> Mesh:
    """The cavity with its rail opening carried straight up, so that oil can climb past the rail.

    Parameters
    ----------
    cavity : Mesh [m]
        Closed, with a flat horizontal top; z is up.
    height : float [m]
        How far the walls go on; the volume grows by this times `rail_opening_area`.

    Returns
    -------
    space : Mesh [m]

    Raises
    ------
    InputError
        GEO-258 where the top is not flat.
    """
    body = welded(cavity)
    top = _flat_top(body)
    if height == 0:
        return body
    lifted, number = np.unique(body.faces[top], return_inverse=True)
    new = np.full(len(body.vertices), -1, dtype=np.int64)
    new[lifted] = len(body.vertices) + np.arange(len(lifted))
    roof = number.reshape(-1, 3) + len(body.vertices)
    a, b = open_sides(body.faces[top]).T
    walls = np.concatenate([np.stack([a, b, new[b]], 1), np.stack([a, new[b], new[a]], 1)])
    vertices = np.concatenate([body.vertices, body.vertices[lifted] + [0.0, 0.0, height]])
    return welded(Mesh(vertices, np.concatenate([body.faces[~top], roof, walls])))


def rail_opening_area(cavity: Mesh) -> float:
    """Area of the cavity's flat top, where the crankcase opens into it.

    Parameters
    ----------
    cavity : Mesh [m]
        Closed, with a flat horizontal top; z is up.

    Returns
    -------
    area : float [m^2]

    Raises
    ------
    InputError
        GEO-258 where the top is not flat.
    """
    return float(cavity.area_vectors[_flat_top(cavity), 2].sum())


def _flat_top(body: Mesh) -> NDArray[np.bool_]:
    top = cap_of_top(body, SLACK)
    if not top.any():
        raise InputError([cavity_problem.no_flat_top(body)])
    return top


def _closed(below: Mesh, rims: Ints, normal: Points) -> Mesh:
    """`below` with its rims capped, turned so that its faces point out."""
    ends = below.vertices[rims] - below.vertices[rims[0, 0]]
    if (np.cross(ends[:, 0], ends[:, 1]) @ normal).sum() > 0:  # the cap walks rims backwards
        below, rims = below.flipped(), rims[:, ::-1]
    cap = cap_faces(below.vertices, rims[:, ::-1], normal)
    mesh = None if cap is None else welded(Mesh(below.vertices, np.concatenate([below.faces, cap])))
    if mesh is None or not is_closed(mesh) or mesh.volume <= 0:
        raise InputError([cavity_problem.mixed_skins(below, rims)])
    return mesh


def _rims_on_plane(below: Mesh, on: NDArray[np.bool_], normal: Points, height: float) -> Ints:
    """The open sides, all on the plane; a Problem for each rim that is not, at its lowest point."""
    rims = open_sides(below.faces)
    flush = on[rims].all(axis=1)
    if not flush.any() and not len(rims):
        raise InputError([cavity_problem.no_opening(below, height)])
    if flush.all():
        return rims
    piece = pieces(rims, len(below.vertices))
    problems = []
    for number in np.unique(piece[rims[~flush, 0]]):
        own = np.unique(rims[piece[rims[:, 0]] == number])
        drop = height - below.vertices[own] @ normal
        lowest = below.vertices[own[np.argmax(drop)]]
        # A rim that meets the plane dips; with no rim at the plane at all every one falls short.
        dips = on[own].any() or not flush.any()
        problems.append(
            cavity_problem.dip(lowest, drop.max())
            if dips
            else cavity_problem.hole(lowest, drop.max())
        )
    raise InputError(problems)
