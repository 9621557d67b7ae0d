# SPDX-License-Identifier: Apache-2.0
"""open_log: CSV as loggers lay it out, MDF4 as asammdf writes it, and logs that are broken.

Unit factors: [NIST-SP811]. MDF4 files: written by the asammdf library.
"""

import numpy as np
import pytest

from sumpwright.errors import InputError
from sumpwright.logs.log_unit import log_unit
from sumpwright.logs.open_log import open_log

TIME = np.arange(0.0, 4.0, 0.02)
BAR = 3.0 + 0.5 * np.sin(TIME)
RPM = 3000.0 + 100.0 * TIME


def _rows(mark: str, decimal: str = ".") -> str:
    lines = [
        mark.join([f"{t:.2f}", f"{p:.3f}", f"{n:.0f}"]).replace(".", decimal)
        for t, p, n in zip(TIME, BAR, RPM, strict=True)
    ]
    return "\n".join(lines) + "\n"


LAYOUTS = {
    "commas": "Time [s],Oil Pressure [bar],Engine Speed [rpm]\n" + _rows(","),
    "decimal comma": "Zeit;Öldruck;Drehzahl\ns;bar;1/min\n" + _rows(";", ","),
    "tabs": "time_s\toil_pressure_bar\trpm\n" + _rows("\t"),
    "preamble": "Some logger, version 3\nDriver,nobody\n\nTime,Oil P,RPM\ns,bar,rpm\n" + _rows(","),
    "bars": "elapsed (s)|OilPressure (bar)|EngineSpeed (rpm)\n" + _rows("|"),
}


@pytest.mark.parametrize("layout", LAYOUTS)
@pytest.mark.parametrize("encoding", ["utf-8", "utf-8-sig", "utf-16", "cp1252"])
def test_reads_the_same_numbers_from_every_layout(layout, encoding, tmp_path) -> None:
    path = tmp_path / "log.csv"
    path.write_bytes(LAYOUTS[layout].encode(encoding))
    log = open_log(path)
    np.testing.assert_allclose(log["pressure"].time, TIME, atol=1e-9)
    # three printed digits of a bar
    np.testing.assert_allclose(log["pressure"].value, BAR * 1e5, atol=51.0)
    # whole rpm
    np.testing.assert_allclose(log["rpm"].value, RPM * np.pi / 30.0, atol=0.053)


def test_reads_times_of_day_over_midnight_and_blank_cells(tmp_path) -> None:
    clock = [f"{(86390 + k) // 3600 % 24:02d}:{(86390 + k) // 60 % 60:02d}:{(86390 + k) % 60:02d}.0"
             for k in range(20)]  # fmt: skip
    rows = [f"{t},{2.0 if k % 2 else ''},{1000 + k}" for k, t in enumerate(clock)]
    path = tmp_path / "clock.csv"
    path.write_text("Clock,Oil Pressure [bar],RPM\n" + "\n".join(rows))
    log = open_log(path)
    np.testing.assert_allclose(log["rpm"].time, np.arange(20.0))
    np.testing.assert_allclose(log["pressure"].time, np.arange(1.0, 20.0, 2.0))
    assert log.typed
    assert "LOG-224" in [f.code for f in log.findings]


def test_leaves_out_rows_that_repeat_or_step_back_and_says_so(tmp_path) -> None:
    times = [*np.arange(0.0, 1.0, 0.01), 0.99, 0.5, *np.arange(1.0, 2.0, 0.01)]
    path = tmp_path / "back.csv"
    path.write_text("time [s],oil pressure [psi]\n" + "".join(f"{t:.2f},40\n" for t in times))
    log = open_log(path)
    assert (np.diff(log["pressure"].time) > 0.0).all()
    assert len(log["pressure"].time) == 200
    assert [f.code for f in log.findings] == ["LOG-222", "LOG-223"]
    # [NIST-SP811]: 1 psi is 6.894757 kPa
    np.testing.assert_allclose(log["pressure"].value, 40 * 6894.757, rtol=1e-7)


def test_keeps_the_longest_part_of_a_log_that_begins_anew(tmp_path) -> None:
    times = [*np.arange(0.0, 1.0, 0.01), *np.arange(0.0, 3.0, 0.01)]
    path = tmp_path / "anew.csv"
    path.write_text("time [s],oil pressure [bar]\n" + "".join(f"{t:.2f},4\n" for t in times))
    log = open_log(path)
    assert len(log["pressure"].time) == 300
    assert [f.code for f in log.findings] == ["LOG-225"]


def test_reads_mdf4_whose_channels_have_clocks_of_their_own(tmp_path) -> None:
    from asammdf import MDF, Signal

    file = MDF(version="4.10")
    slow = TIME[::10]
    file.append([Signal(BAR, TIME, unit="bar", name="Oil Pressure")])
    file.append([Signal(90.0 + slow, slow, unit="degC", name="Oil Temp")])
    path = tmp_path / "log.mf4"
    file.save(path)
    file.close()
    log = open_log(path)
    np.testing.assert_allclose(log["pressure"].value, BAR * 1e5, rtol=1e-12)
    np.testing.assert_allclose(log["temperature"].value, 363.15 + slow, rtol=1e-12)
    np.testing.assert_allclose(log["temperature"].time, slow, atol=1e-12)


def test_takes_a_column_and_a_unit_as_a_person_gives_them(tmp_path) -> None:
    path = tmp_path / "odd.csv"
    path.write_text("time [s],AN7\n" + "".join(f"{t:.2f},55\n" for t in TIME))
    assert "pressure" not in open_log(path)
    log = open_log(path, channels={"pressure": "an7"}, units={"pressure": "psi"})
    assert log["pressure"].how == "given"
    np.testing.assert_allclose(log["pressure"].value, 55 * 6894.757, rtol=1e-7)
    with pytest.raises(InputError, match="LOG-211"):
        open_log(path, channels={"pressure": "AN8"})
    with pytest.raises(InputError, match="LOG-212"):
        open_log(path, channels={"pressure": "AN7"}, units={"pressure": "furlong"})
    with pytest.raises(InputError, match="LOG-213"):
        open_log(path, channels={"pressure": "AN7"})  # 55 psi, or 55 kPa at idle


BROKEN = {
    "empty": (b"", "LOG-202"),
    "blank lines": (b"\n\n\n", "LOG-202"),
    "binary": (bytes(range(256)) * 40, "LOG-201"),
    "names only": (b"time,oil pressure\n", "LOG-203"),
    "words only": (b"dear sir,\nplease find\n", "LOG-203"),
    "no names": (b"1,2\n3,4\n5,6\n", "LOG-204"),
    "one row": (b"time [s],oil pressure [bar]\n0,4\n", "LOG-208"),
    "one time": (b"time [s],oil pressure [bar]\n0,4\n0,4\n0,4\n", "LOG-208"),
    "no time": (b"oil pressure [bar],rpm\n4,1000\n4,1000\n", "LOG-210"),
    "odd unit": (b"time [s],oil pressure [bananas]\n0,4\n1,4\n2,4\n", "LOG-212"),
    "wide": (b"time," + b"a," * 1_000_000 + b"b\n", "LOG-206"),
    "mdf cut": (b"MDF     4.10    " + b"\x01" * 300, "LOG-209"),
    "mdf head": (b"MDF     ", "LOG-209"),
}


@pytest.mark.parametrize("case", BROKEN)
def test_says_one_clear_sentence_of_a_broken_log(case, tmp_path) -> None:
    data, code = BROKEN[case]
    path = tmp_path / "broken.csv"
    path.write_bytes(data)
    with pytest.raises(InputError) as caught:
        open_log(path)
    assert [p.code for p in caught.value.problems] == [code]


def test_reads_past_formulas_nan_cut_rows_and_mixed_bytes(tmp_path) -> None:
    rows = [f"{t:.2f},{p:.3f}" for t, p in zip(TIME, BAR, strict=True)]
    rows[5] = '0.10,=cmd|"/c calc"!A1'
    rows[6] = "0.12,NaN"
    rows[7] = "0.14,3.0,7,8,9"
    rows[-1] = "3.9"
    data = ("time [s],oil pressure [bar]\n" + "\n".join(rows)).encode() + b"\n4.00,\xff\xfe\n"
    path = tmp_path / "mixed.csv"
    path.write_bytes(data)
    log = open_log(path)
    assert np.isfinite(log["pressure"].value).all()
    assert len(log["pressure"].value) >= len(TIME) - 4


def test_an_acceleration_is_one_of_gravity_by_the_published_factor() -> None:
    # [NIST-SP811] appendix B
    assert log_unit("g", "m/s^2") == (9.80665, 0.0)
    assert log_unit("mph", "m/s") == (0.44704, 0.0)
    assert log_unit("[°F]", "K") == pytest.approx((5 / 9, 459.67 * 5 / 9))
    assert log_unit("psi", "m/s") is None


def _read(folder, text: str):
    path = folder / "log.csv"
    path.write_text(text, encoding="utf-8")
    return open_log(path)


def test_tells_a_decimal_comma_in_every_cell_from_what_parts_the_cells(tmp_path) -> None:
    rows = "".join(f"0,{k};3,{k};1000,0;0,5\n" for k in range(9))
    log = _read(tmp_path, "Zeit;Öldruck;Drehzahl;Quer\ns;bar;1/min;g\n" + rows)
    # bar to Pa, [NIST-SP811]: exact
    np.testing.assert_allclose(log["pressure"].value, 3e5 + 1e4 * np.arange(9), rtol=1e-12)


@pytest.mark.parametrize("clock", ["0:{s:04.1f}", "2026-03-01T10:00:{s:04.1f}+01:00",
                                   "2026-03-01 10:00:{s:04.1f}", "10:00:{s:04.1f}"])  # fmt: skip
def test_reads_a_clock_of_any_length(clock, tmp_path) -> None:
    rows = "".join(clock.format(s=0.5 * k) + ",4\n" for k in range(100))
    log = _read(tmp_path, "time,oil pressure [bar]\n" + rows)
    np.testing.assert_allclose(log["pressure"].time, 0.5 * np.arange(100), atol=1e-6)  # of 1e9 s


@pytest.mark.parametrize("sign", [1.0, -1.0])
def test_takes_gravity_off_a_vertical_channel_whichever_way_it_points(sign, tmp_path) -> None:
    rows = "".join(f"{0.1 * k:.1f},{sign * (1.0 + 0.1 * (k % 3 - 1))}\n" for k in range(30))
    log = _read(tmp_path, "time [s],acc_z [g]\n" + rows)
    expected = 0.980665 * (np.arange(30) % 3 - 1)  # [NIST-SP811]: g is 9.80665 m/s^2
    np.testing.assert_allclose(log["az"].value, expected, atol=1e-12)
    assert [f.code for f in log.findings] == ["LOG-228"]


@pytest.mark.parametrize(
    ("column", "number", "role", "unit"),
    [("oil pressure", 4.5, "pressure", "bar"), ("oil pressure", 450, "pressure", "kPa"),
     ("oil temp", 105, "temperature", "degC"), ("oil temp", 220, "temperature", "degF"),
     ("acc lat", 1.2, "ay", "g"), ("acc lat", 12.0, "ay", "m/s^2")],
)  # fmt: skip
def test_says_what_unit_it_took_where_only_one_makes_sense(
    column, number, role, unit, tmp_path
) -> None:
    rows = "".join(f"{0.1 * k:.1f},{number}\n" for k in range(30))
    log = _read(tmp_path, f"time [s],{column}\n" + rows)
    assert log[role].unit == unit
    assert [f.code for f in log.findings] == ["LOG-227"]


@pytest.mark.parametrize(
    ("column", "number"),
    [("oil pressure", 60), ("oil temp", 60), ("oil temp", 150), ("acc lat", 0.3), ("speed", 30)],
)
def test_asks_for_a_unit_where_two_make_sense(column, number, tmp_path) -> None:
    rows = "".join(f"{0.1 * k:.1f},{number}\n" for k in range(30))
    with pytest.raises(InputError, match=r"LOG-213"):
        _read(tmp_path, f"time [s],{column}\n" + rows)


def test_takes_a_longitude_near_nought_for_degrees_beside_its_latitude(tmp_path) -> None:
    rows = "".join(f"{0.1 * k:.1f},51.5,-0.12\n" for k in range(30))
    log = _read(tmp_path, "time [s],GPS latitude,GPS longitude\n" + rows)
    np.testing.assert_allclose(log["longitude"].value, np.radians(-0.12), rtol=1e-12)


def test_outlives_mdf_files_with_their_bytes_in_disorder(tmp_path) -> None:
    from asammdf import MDF, Signal

    file = MDF(version="4.10")
    file.append([Signal(BAR, TIME, unit="bar", name="Oil Pressure")])
    whole = tmp_path / "whole.mf4"
    file.save(whole)
    file.close()
    data = whole.read_bytes()
    path = tmp_path / "cut.mf4"
    path.write_bytes(data[: len(data) // 3])
    with pytest.raises(InputError, match="LOG-209"):
        open_log(path)


def test_reads_numbers_with_a_decimal_comma_between_quotes(tmp_path) -> None:
    rows = "".join(f'"{k},5","4,1"\n' for k in range(18))
    log = _read(tmp_path, '"time [s]","oil pressure [bar]"\n' + rows)
    np.testing.assert_allclose(log["pressure"].time, np.arange(18.0))
    np.testing.assert_allclose(log["pressure"].value, 4.1e5)


def test_reads_lines_that_end_with_a_carriage_return_alone(tmp_path) -> None:
    path = tmp_path / "log.csv"
    path.write_bytes(b"time [s],oil pressure [bar]\r" + b"".join(b"%d,4\r" % k for k in range(18)))
    np.testing.assert_allclose(open_log(path)["pressure"].time, np.arange(18.0))


def test_a_quote_that_never_ends_swallows_no_rows(tmp_path) -> None:
    rows = [f"{0.1 * k:.1f},4,note" for k in range(60)]
    rows[20] = '2.0,4,"note'
    log = _read(tmp_path, "time [s],oil pressure [bar],words\n" + "\n".join(rows) + "\n")
    np.testing.assert_allclose(log["pressure"].time, 0.1 * np.arange(60), atol=1e-9)


def test_nor_does_one_among_cells_that_are_quoted(tmp_path) -> None:
    rows = [f'{0.1 * k:.1f},4,"note"' for k in range(60)]
    rows[20] = '2.0,4,"note'
    log = _read(tmp_path, "time [s],oil pressure [bar],words\n" + "\n".join(rows) + "\n")
    np.testing.assert_allclose(log["pressure"].time, 0.1 * np.arange(60), atol=1e-9)


def test_takes_two_part_times_from_nought_as_minutes_and_seconds(tmp_path) -> None:
    path = tmp_path / "gauge.csv"
    path.write_text("time;oil pressure [bar];rpm\n0:00;3,0;3000\n0:30;3,1;3000\n1:00;1,2;3000\n")
    log = open_log(path)
    np.testing.assert_allclose(log["pressure"].time, [0.0, 30.0, 60.0])
    assert log.typed
