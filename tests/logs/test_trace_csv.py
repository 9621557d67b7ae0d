# SPDX-License-Identifier: Apache-2.0
"""A CSV log is read as it stands, or everything that is wrong with it is said with its line."""

import io

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from sumpwright.errors import InputError, Problem
from sumpwright.logs import text_line, trace_row
from sumpwright.logs.trace_csv import TraceColumns, trace_columns

NEEDED = "first a line of names with time, ax and ay; az and rpm may be there too"
PLAIN = "time,ax,ay,az,rpm\n0,0.1,-0.2,0.02,3000\n0.02,0.15,-0.25,-0.02,3010.5\n"


def read(text: str | bytes) -> TraceColumns:
    data = text.encode() if isinstance(text, str) else text
    return trace_columns(io.BytesIO(data), "log.csv")[0]


def problems(text: str | bytes) -> tuple[Problem, ...]:
    with pytest.raises(InputError) as caught:
        read(text)
    return caught.value.problems


def problem(text: str | bytes) -> Problem:
    (only,) = problems(text)
    return only


def test_reads_every_channel_and_where_its_rows_stand() -> None:
    log = read(PLAIN)
    np.testing.assert_array_equal(log.time, [0.0, 0.02])
    np.testing.assert_array_equal(log.ax_g, [0.1, 0.15])
    np.testing.assert_array_equal(log.ay_g, [-0.2, -0.25])
    np.testing.assert_array_equal(log.az_g, [0.02, -0.02])
    np.testing.assert_array_equal(log.rpm, [3000.0, 3010.5])
    np.testing.assert_array_equal(log.line, [2, 3])


@pytest.mark.parametrize(
    "text",
    [
        "Time [s],AX (g),ay_g,AZ g,RPM\n0,0.1,-0.2,0.02,3000\n0.02,0.15,-0.25,-0.02,3010.5\n",
        "time;ax;ay;az;rpm\n0;0,1;-0,2;0,02;3000\n0,02;0,15;-0,25;-0,02;3010,5\n",
        "time;ax;ay;az;rpm\n0;.1;-.2;.02;3000\n2e-2;0.15;-0.25;-0.02;3010.5\n",
        "\ufeff" + PLAIN.replace("\n", "\r\n"),
        "# eight, dry\n\n" + PLAIN.replace("3000\n", "3000\n\n#\n"),
        "rpm,note,az,ay,ax,time\n3000,\"a, b\",.02,-.2,.1,0\n3010.5,ü,-.02,-.25,.15,.02\n",
        '"time","ax","ay","az","rpm"\n"0",0.1,-0.2,0.02,3000\n0.02,0.15,-0.25,-0.02,3010.5,\n',
    ],
    ids=["units", "decimal comma", "semicolon", "BOM and CRLF", "comment", "order", "quotes"],
)  # fmt: skip
def test_writes_of_one_log_are_read_alike(text: str) -> None:
    log, plain = read(text), read(PLAIN)
    for name in ("time", "ax_g", "ay_g", "az_g", "rpm"):
        np.testing.assert_array_equal(getattr(log, name), getattr(plain, name))


@given(st.lists(st.floats(-3.0, 3.0), min_size=1, max_size=20), st.booleans())
def test_a_number_comes_back_to_its_last_digit(side: list[float], comma: bool) -> None:
    rows = [f"{i};0;{a!r}" for i, a in enumerate(side)]
    text = "\n".join(["time;ax;ay", *(r.replace(".", ",") if comma else r for r in rows)])
    np.testing.assert_array_equal(read(text).ay_g, side)


def test_channels_that_are_not_there_are_none() -> None:
    log = read("time,ax,ay,speed\n0,0,0,12\n")
    assert log.az_g is None
    assert log.rpm is None


def test_gravity_in_the_vertical_channel_is_taken_off_and_said() -> None:
    text = "time,ax,ay,az\n0,0,0,1.01\n1,0,0,1.25\n2,0,0,0.95\n"
    log, (finding,) = trace_columns(io.BytesIO(text.encode()), "log.csv")
    np.testing.assert_allclose(log.az_g, [0.01, 0.25, -0.05], atol=1e-15)  # rounding
    assert (finding.code, finding.place) == ("LOG-120", "log.csv")
    assert finding.found == "az has its middle at 1.01 g: gravity is in it"
    assert (finding.repair, finding.severity) == ("1 g was taken off", "note")


def test_a_vertical_channel_without_gravity_stays_as_it_is() -> None:
    for middle in ("0.0", "-1.0", "0.4"):
        log, findings = trace_columns(io.BytesIO(f"time,ax,ay,az\n0,0,0,{middle}".encode()), "l")
        assert (log.az_g, findings) == ([float(middle)], ())


def test_a_column_that_is_missing() -> None:
    assert problem("time,ax,speed\n0,0,0\n") == Problem(
        "LOG-101", "log.csv:1", "no ay among: time, ax, speed", NEEDED,
        "name the column of acceleration left in g `ay`",
    )  # fmt: skip
    many = problem("a,b,c,d,e,f,g,h,i,j\n")
    assert many.found == "no time and no ax and no ay among: a, b, c, d, e, f, g, h, ..."
    bare = problem("0,0.1,0.2\n0.1,0.1,0.2\n")
    assert (bare.found, bare.do) == ("numbers: 0, 0.1, 0.2", "put a line of names first")


def test_a_column_twice_and_one_in_another_unit() -> None:
    twice, unit = problems("time,ax,ay,AX_g,rpm [rad/s]\n")
    assert twice == Problem(
        "LOG-102", "log.csv:1", "ax in columns 2 and 4", "one column ax",
        "take one out, or give it another name",
    )  # fmt: skip
    assert unit == Problem(
        "LOG-103", "log.csv:1", "rpm [rad/s]", "rpm in 1/min",
        "export it in 1/min, or change the numbers and the column's name",
    )  # fmt: skip
    assert problem("time_ms,ax,ay\n").found == "time_ms"
    assert problem("time,ax [m/s^2],ay\n").needed == "ax in g"


def test_a_channel_with_more_behind_its_name_is_another_one() -> None:
    log = read("time,ax,ax filtered,ay,ayaw\n0,0.1,0.3,0.2,0.4\n")
    assert (log.ax_g, log.ay_g) == ([0.1], [0.2])


def test_cells_that_are_no_numbers_are_said_at_the_first_of_them() -> None:
    text = "time,ax,ay,rpm\n0,0,0,900\n1,x,0,\n2,,inf,900\n3,1_0,0,９００\n4,nan,0,900\n"
    ahead, turning, side = problems(text)
    assert ahead == Problem(
        "LOG-104", "log.csv:3  ax", "'x' (4 rows in all)", "a number for ax, such as 0.25",
        "cut the row, or fill it from its neighbours",
    )  # fmt: skip
    assert (turning.where, turning.found) == ("log.csv:3  rpm", "'' (2 rows in all)")
    assert (side.where, side.found) == ("log.csv:4  ay", "'inf'")


def test_a_line_of_units_is_told() -> None:
    first = problems("time;ax;ay\ns;g;g\n0;0;0\n")[0]
    assert (first.where, first.found) == ("log.csv:2  time", "'s'")
    assert first.needed == "a number for time, such as 0,25"
    assert first.do.endswith("; if it is a line of units, take it out")


def test_two_commas_or_a_point_and_a_comma_make_no_number() -> None:
    text = "time;ax;ay\n0;0;0\n1;1.234,5;0,1,2\n"
    assert [p.found for p in problems(text)] == ["'1.234,5'", "'0,1,2'"]


def test_a_row_with_too_few_or_too_many_cells() -> None:
    assert problem("time,ax,ay\n0,0\n") == Problem(
        "LOG-105", "log.csv:2", "2 cells", "3 cells, as in the line of names", "fill or cut the row"
    )
    comma = problem("time,ax,ay\n0,0,0\n0,02,0,1,0,2\n")
    assert (comma.where, comma.found) == ("log.csv:3", "6 cells")
    assert comma.do == "where numbers have a decimal comma, put semicolons between the columns"
    assert problem("time;ax;ay\n0;0;0;9\n").do == "give every column its name in the first line"


def test_quotes_that_do_not_end_swallow_no_rows() -> None:
    quotes, number = problems('time,ax,ay\n0,"0,0\n1,b,0\n')
    assert (quotes.code, quotes.where) == ("LOG-105", "log.csv:2")
    assert number.where == "log.csv:3  ax"


def test_an_empty_file() -> None:
    for text in ("", "\n\n  \n", "# only a comment\n"):
        assert problem(text) == Problem(
            "LOG-111", "log.csv", "nothing in it", "a line of names, then a row for each time",
            "export the log again",
        )  # fmt: skip


def test_a_file_that_is_no_text() -> None:
    binary = problem(b"LOG1\0\x07\0\0")
    assert (binary.code, binary.found) == ("LOG-112", "bytes that are no text")
    endless = problem(b"1" * 100_000)
    assert (endless.code, endless.where) == ("LOG-112", "log.csv:1")
    assert endless.found == "a line without an end"


def test_text_that_is_not_utf8_is_said_beside_what_came_before() -> None:
    number, text = reversed(problems(b"time,ax,ay,note\n0,x,0,\n1,0,0,20 \xb0C\n"))
    assert (text.code, text.where) == ("LOG-113", "log.csv:3")
    assert text.found == "a byte that is not UTF-8 text (0xb0)"
    assert number.where == "log.csv:2  ax"
    assert problem(PLAIN.encode("utf-16")).found == "UTF-16 text"


def test_a_log_over_the_limits(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(trace_row, "MOST_ROWS", 2)
    read("time,ax,ay\n0,0,0\n1,0,0\n")
    rows = problem("time,ax,ay\n0,0,0\n1,0,0\n2,0,0\n")
    assert (rows.code, rows.where, rows.needed) == ("LOG-114", "log.csv:4", "at most 2 rows")
    monkeypatch.setattr(text_line, "MAX_BYTES", 20)
    assert problem("time,ax,ay\n0,0,0\n1,0,0\n").found == "more than 0 MiB"


def test_a_large_file_is_not_held_as_text() -> None:
    class Endless(io.RawIOBase):
        """Rows without end."""

        count = 0

        def readline(self, size: int | None = -1) -> bytes:
            self.count += 1
            return b"time,ax,ay\n" if self.count == 1 else b"0,0,0" + b" " * 60_000 + b"\n"

    with pytest.raises(InputError, match="LOG-114"):
        trace_columns(Endless(), "log.csv")  # type: ignore[arg-type]
