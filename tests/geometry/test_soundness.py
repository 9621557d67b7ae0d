# SPDX-License-Identifier: Apache-2.0
"""Each fault by itself, on bodies whose faults can be counted by hand."""

import time

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from sumpwright.geometry.mesh import Mesh, joined
from sumpwright.geometry.soundness import Soundness, soundness
from tests.geometry.bodies import box, icosphere, random_rotation, rippled_pan, star

CUBE = box([0, 0, 0], [0.1, 0.1, 0.1])
INNER = box([0.03] * 3, [0.07] * 3)
CORE = box([0.04] * 3, [0.06] * 3)


def moved(mesh: Mesh, *shift: float) -> Mesh:
    return mesh.moved(np.eye(3), shift)


def codes(answer: Soundness) -> list[str]:
    return [f.code for f in answer.findings]


@pytest.mark.parametrize(
    "mesh", [CUBE, icosphere(3, 0.1), rippled_pan(30), star(np.random.default_rng(1))]
)
def test_sound_bodies_give_no_finding(mesh: Mesh) -> None:
    answer = soundness(mesh)
    assert answer == Soundness(True, False, 1, 0, 0, 0, 0, 0, 0, ())
    assert answer.sound


def test_a_missing_triangle_is_three_open_edges_with_their_place() -> None:
    answer = soundness(Mesh(CUBE.vertices, CUBE.faces[1:]))  # the first lies on x = 0
    assert (answer.watertight, answer.open_edges) == (False, 3)
    (finding,) = answer.findings
    assert finding.code == "GEO-301"
    # the triangle's box: x 0, y and z from 0 to 100 mm; its diagonal is 100 sqrt(2)
    assert finding.place == "3 open edges near x 0 mm, y 50 mm, z 50 mm"
    assert finding.found == "the skin has 1 hole, the widest 141 mm across"
    assert finding.severity == "error"


def test_the_widest_of_several_holes_is_shown() -> None:
    ball = moved(icosphere(4, 0.1), 1.0, 0.0, 0.0)
    answer = soundness(
        joined([Mesh(CUBE.vertices, CUBE.faces[1:]), Mesh(ball.vertices, ball.faces[1:])])
    )
    assert answer.findings[0].place.endswith("near x 0 mm, y 50 mm, z 50 mm")
    assert "2 holes" in answer.findings[0].found


def test_inside_out_is_told_for_closed_and_for_open_skins() -> None:
    for mesh in (CUBE.flipped(), Mesh(CUBE.vertices, CUBE.faces[1:, ::-1])):
        answer = soundness(mesh)
        assert answer.inside_out
        assert "GEO-306" in codes(answer)


def test_one_turned_triangle_is_counted_and_placed() -> None:
    faces = CUBE.faces.copy()
    faces[3] = faces[3, ::-1]
    answer = soundness(Mesh(CUBE.vertices, faces))
    assert (answer.watertight, answer.flipped_faces, codes(answer)) == (True, 1, ["GEO-304"])
    # its corners are (100, 0, 0), (100, 100, 100) and (100, 0, 100) mm
    assert answer.findings[0].place == "1 triangle near x 100 mm, y 33 mm, z 67 mm"


def test_a_void_is_sound_and_so_is_a_loose_core_in_it() -> None:
    for mesh in ([CUBE, INNER.flipped()], [CUBE, INNER.flipped(), CORE]):
        answer = soundness(joined(mesh))
        assert answer.findings == ()
        assert answer.bodies == len(mesh)


def test_an_inner_skin_that_faces_outward_counts_twice() -> None:
    answer = soundness(joined([CUBE, INNER]))
    assert (answer.inside_out, codes(answer), answer.sound) == (False, ["GEO-307"], False)
    assert answer.findings[0].place.startswith("1 skin near")


@pytest.mark.parametrize(
    "mesh",
    [
        joined([CUBE, moved(CUBE.flipped(), 0.3, 0, 0)]),  # one of two bodies
        joined([CUBE, INNER.flipped()]).flipped(),  # a casting as a whole
        joined([CUBE, INNER.flipped(), CORE.flipped()]),  # a core that eats its void
    ],
)
def test_one_skin_the_wrong_way_is_found_among_others(mesh: Mesh) -> None:
    answer = soundness(mesh)
    assert answer.inside_out
    assert codes(answer) == ["GEO-306"]


def test_bodies_that_touch_are_sound_with_a_note() -> None:
    mirrored = Mesh(CUBE.vertices * [-1, 1, 1] + [0.2, 0, 0], CUBE.faces[:, ::-1])
    for other in (mirrored, moved(CUBE, 0.1, 0, 0), moved(CUBE, 0.1, 0.1, 0)):
        answer = soundness(joined([CUBE, other]))
        assert (answer.bodies, answer.watertight, answer.sound) == (2, True, True)
        assert codes(answer) == ["GEO-303"]
        assert answer.nonmanifold_edges > 0
        assert answer.self_overlaps == 0


def test_a_fin_on_an_edge_is_an_error() -> None:
    points = np.vstack([CUBE.vertices, [[-0.05, -0.05, 0.05]]])
    fin = Mesh(points, np.vstack([CUBE.faces, [[0, 1, 8]]]))
    answer = soundness(fin)
    assert (answer.nonmanifold_edges, answer.watertight) == (1, False)
    assert "GEO-302" in codes(answer)


def test_copies_of_triangles_and_of_whole_bodies_are_told() -> None:
    one = soundness(Mesh(CUBE.vertices, np.vstack([CUBE.faces, CUBE.faces[:1]])))
    assert (one.duplicate_faces, codes(one)) == (1, ["GEO-308"])
    assert one.findings[0].found == "the same triangles are in the file more than once"
    whole = soundness(joined([CUBE, moved(CUBE, 0.3, 0, 0), CUBE]))
    assert (whole.duplicate_faces, whole.bodies, codes(whole)) == (12, 2, ["GEO-308"])
    assert whole.findings[0].found == "1 whole body in the file more than once"


def test_triangles_without_area_are_harmless_but_said() -> None:
    middle = len(CUBE.vertices)
    points = np.vstack([CUBE.vertices, 0.5 * (CUBE.vertices[0] + CUBE.vertices[1])])
    # a needle on the edge 0-1: the triangle that used the edge now uses its halves
    faces = [list(f) for f in CUBE.faces.tolist()]
    host = next(i for i, f in enumerate(faces) if (0, 1) in zip(f, f[1:] + f[:1], strict=True))
    a, b, c = faces[host]
    apex = ({a, b, c} - {0, 1}).pop()
    faces[host] = [0, middle, apex]
    faces += [[middle, 1, apex], [0, 1, middle], [2, 2, 3]]
    answer = soundness(Mesh(points, faces))
    assert (answer.degenerate_faces, answer.watertight, answer.sound) == (2, True, True)
    assert codes(answer) == ["GEO-309"]


@pytest.mark.parametrize(
    ("size", "wrong"), [(0.001, True), (0.01, False), (49.0, False), (400.0, True)]
)
def test_a_size_that_betrays_a_wrong_unit_is_an_error(size: float, wrong: bool) -> None:
    answer = soundness(box([0, 0, 0], [size] * 3))
    assert codes(answer) == (["GEO-312"] if wrong else [])


def test_overlaps_are_looked_for_only_when_asked() -> None:
    crossed = joined([CUBE, moved(CUBE, 0.05, 0.03, 0.02)])
    assert soundness(crossed, overlaps=False).self_overlaps is None
    answer = soundness(crossed)
    assert answer.self_overlaps is not None
    assert answer.self_overlaps > 0
    assert "GEO-310" in codes(answer)


def test_more_skins_than_are_judged_is_said() -> None:
    specks = [
        moved(box([0] * 3, [0.01] * 3), 0.02 * i, 0.02 * j, 0) for i in range(11) for j in range(10)
    ]
    answer = soundness(joined(specks))
    assert (answer.bodies, codes(answer), answer.sound) == (110, ["GEO-313"], True)


@settings(deadline=None, max_examples=30)
@given(st.integers(0, 2**32 - 1), st.floats(0.1, 10.0))
def test_counts_do_not_change_with_place_turn_size_or_order(seed: int, size: float) -> None:
    rng = np.random.default_rng(seed)
    body = star(rng, halvings=1)
    faces = body.faces.copy()
    faces[5] = faces[5, ::-1]
    broken = Mesh(body.vertices, faces[2:])
    order = rng.permutation(len(broken.faces))
    names = rng.permutation(len(body.vertices))
    other = Mesh(body.vertices[np.argsort(names)], names[broken.faces[order]])
    other = other.moved(random_rotation(rng), rng.uniform(-1, 1, 3)).scaled(size)
    a, b = soundness(broken), soundness(other)
    assert (a.open_edges, a.flipped_faces, a.bodies, a.inside_out, a.self_overlaps) == (
        b.open_edges,
        b.flipped_faces,
        b.bodies,
        b.inside_out,
        b.self_overlaps,
    )


def test_agrees_with_a_mesh_library_on_bodies_and_holes() -> None:
    import trimesh

    ball = icosphere(3, 0.1)
    for kept in (ball.faces, ball.faces[40:], ball.faces[::2]):
        theirs = trimesh.Trimesh(ball.vertices, kept, process=False)
        ours = soundness(Mesh(ball.vertices, kept), overlaps=False)
        assert ours.watertight == theirs.is_watertight
        edges = np.sort(theirs.edges, axis=1)
        assert ours.open_edges == len(trimesh.grouping.group_rows(edges, require_count=1))


@pytest.mark.slow
def test_cheap_checks_stay_cheap_on_a_hundred_thousand_triangles() -> None:
    pan = rippled_pan(158)
    soundness(box([0] * 3, [1] * 3))  # the imports
    times = []
    for _ in range(5):
        start = time.perf_counter()
        assert soundness(Mesh(pan.vertices, pan.faces), overlaps=False).sound
        times.append(time.perf_counter() - start)
    assert min(times) < 0.5  # s; 0.1 s on an idle core of 2024, five times that on a busy one
