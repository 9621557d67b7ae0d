# SPDX-License-Identifier: Apache-2.0
"""Units as loggers write them. Only they are read here; what a person types is units.py's."""

import csv
from collections.abc import Mapping
from functools import cache
from pathlib import Path
from types import MappingProxyType

_PLAIN = str.maketrans({"\u2103": "°c", "\u2109": "°f", "º": "°", "˚": "°", "\u00a0": " "})

_WRITTEN = {
    **{name.lower(): name for name in ("Pa", "kPa", "MPa", "hPa", "Hz", "K")},
    **{name.lower(): name for name in ("degC", "degF", "\u00b0C", "\u00b0F", "C", "F")},
}
"""Names that are not in small letters where a person reads them; capitals change nothing here."""


@cache
def _table() -> Mapping[tuple[str, str], tuple[float, float]]:
    lines = Path(__file__).with_name("log_unit.csv").read_text(encoding="utf-8").splitlines()
    rows = csv.DictReader(line for line in lines if not line.startswith("#"))
    return MappingProxyType(
        {(r["unit"], r["si"]): (float(r["factor"]), float(r["offset"])) for r in rows}
    )


@cache
def _names() -> frozenset[str]:
    return frozenset(unit for unit, _ in _table())


def log_unit(text: str, si: str) -> tuple[float, float] | None:
    """Factor and offset that take numbers of a logged unit to SI; None where it is none of that.

    Parameters
    ----------
    text : str [-]
        As the log has it, such as ``[bar]``.
    si : str [-]
        SI unit wanted, such as ``Pa``.

    Returns
    -------
    found : (float, float) or None [-]
        Factor and offset.

    Source
    ------
    [NIST-SP811] appendix B. Checked by tests/logs/test_open_log.py.
    """
    return _table().get((plain_unit(text), si))


def is_unit(text: str) -> bool:
    """Whether a text is a unit that loggers write.

    Parameters
    ----------
    text : str [-]

    Returns
    -------
    known : bool [-]
    """
    return plain_unit(text) in _names()


def units_for(si: str) -> tuple[str, ...]:
    """Units that are read for an SI unit, the usual ones first, as the trade writes them.

    Parameters
    ----------
    si : str [-]

    Returns
    -------
    names : tuple of str [-]
    """
    return tuple(_WRITTEN.get(unit, unit) for unit, other in _table() if other == si)


def plain_unit(text: str) -> str:
    """A unit without brackets, capitals and spaces at its ends.

    Parameters
    ----------
    text : str [-]

    Returns
    -------
    plain : str [-]
    """
    return text.translate(_PLAIN).strip().strip("[]()\"'").strip().lower().replace("\u00b5", "µ")
