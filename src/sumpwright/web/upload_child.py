# SPDX-License-Identifier: Apache-2.0
"""Reads one file that a person dropped on the page, in a process that may come to harm.

Run as ``python -P -m sumpwright.web.upload_child JSON`` in the folder the file is in. It binds
itself before it looks at the file, and answers with one JSON object: what `measure` or `read`
would say of the file, or its problems.
"""

import json
import os
import signal
import sys
from contextlib import suppress
from dataclasses import asdict
from pathlib import Path
from typing import Any

from sumpwright.errors import InputError, Problem, SumpwrightError

_UNITS = ("mm", "cm", "m", "in", "ft")
_LIBRARIES = 2 * 2**30
"""Bytes of addresses that the libraries themselves take, above what the file may."""
_NAMING = ("LOG-210", "LOG-211", "LOG-212", "LOG-213")
"""A sound log that somebody has to say more about: `read` takes that later."""
_NO_UNIT = "GEO-208"


def bind(*, memory: int, seconds: int) -> None:
    """Let this process have no more than that [B, s]; where the system cannot, its parent ends it.

    Where there are such limits they hold without the parent too, should that be killed.
    """
    with suppress(AttributeError, OSError):
        os.nice(5)
    with suppress(AttributeError, ValueError):
        signal.alarm(seconds + 5)
    try:
        import resource
    except ImportError:  # Windows
        return
    limits = {
        "RLIMIT_DATA": memory,
        "RLIMIT_AS": memory + _LIBRARIES,
        "RLIMIT_CPU": seconds,
        "RLIMIT_CORE": 0,
        "RLIMIT_FSIZE": 4 * 2**30,
    }
    for name, most in limits.items():
        with suppress(AttributeError, ValueError, OSError):
            hard = resource.getrlimit(getattr(resource, name))[1]
            low = most if hard == resource.RLIM_INFINITY else min(most, hard)
            resource.setrlimit(getattr(resource, name), (low, low))


def read(asked: dict[str, Any]) -> dict[str, Any]:
    """What a file is, or what is wrong with it."""
    try:
        return _geometry(asked) if asked["as"] == "geometry" else _log(asked)
    except InputError as err:
        return {"problems": [asdict(p) for p in err.problems]} | _sizes(asked, err.problems)
    except SumpwrightError as err:
        return {"error": str(err)}
    except MemoryError:
        return {"error": f"{asked['name']} needs more memory than a file may have here"}


def _geometry(asked: dict[str, Any]) -> dict[str, Any]:
    from sumpwright.studies.measure import measure
    from sumpwright.units import to_si

    unit = asked.get("unit") or _kept_unit(asked)
    if unit is not None and unit not in _UNITS:
        do = "name the unit of the file's numbers"
        needed = ", ".join(_UNITS[:-1]) + f" or {_UNITS[-1]}"
        raise InputError([Problem("CLI-401", "unit", str(unit)[:40], needed, do)])
    found = measure(Path(asked["name"]), unit=to_si(f"1 {unit}", "m") if unit else None)
    return {"measure": found.as_json(), "findings": [asdict(f) for f in found.findings]}


def _sizes(asked: dict[str, Any], problems: tuple[Problem, ...]) -> dict[str, Any]:
    """How large a body without a unit would be in each, so that a person sees which it is.

    Where it cannot be read in any, that is its problem: no unit would mend it.
    """
    if [p.code for p in problems] != [_NO_UNIT]:
        return {}
    from sumpwright.studies.measure import measure
    from sumpwright.units import to_si

    try:
        low, high = measure(Path(asked["name"]), unit=1.0).bounds_m
    except InputError as err:
        return {"problems": [asdict(p) for p in err.problems]}
    spans = [b - a for a, b in zip(low, high, strict=True)]
    return {"sizes_m": {unit: [to_si(f"1 {unit}", "m") * s for s in spans] for unit in _UNITS}}


def _kept_unit(asked: dict[str, Any]) -> str | None:
    """The unit that the job has at the place where the file is to go, should it need one."""
    from sumpwright.job.load import job_path, read_text
    from sumpwright.job.named_file import WITHOUT_UNIT
    from sumpwright.job.tree import read_tree
    from sumpwright.web.put_file import kept_unit

    key, job = asked.get("key"), asked.get("job")
    if not key or not job or Path(asked["name"]).suffix not in WITHOUT_UNIT:
        return None
    with suppress(SumpwrightError):
        path = job_path(Path(job))
        return kept_unit(read_tree(read_text(path), path.name), key)
    return None


def _log(asked: dict[str, Any]) -> dict[str, Any]:
    from sumpwright.logs.health import sensor_notes
    from sumpwright.logs.open_log import open_log

    columns, units = _kept_names(asked.get("job"))
    columns |= asked.get("columns") or {}
    units |= asked.get("units") or {}
    try:
        log = open_log(Path(asked["name"]), channels=columns, units=units)
    except InputError as err:
        if any(p.code not in _NAMING for p in err.problems):
            raise
        return {"read": None, "findings": [], "unnamed": [asdict(p) for p in err.problems]}
    findings = [asdict(f) for f in log.findings]
    notes = [asdict(n) for n in sensor_notes(log)]
    return {"read": _brief(log), "findings": findings, "notes": notes}


def _kept_names(job: str | None) -> tuple[dict[str, str], dict[str, str]]:
    """Columns and units that the job keeps, where it can be read."""
    from sumpwright.job.load import load_job

    if job is not None:
        with suppress(SumpwrightError):
            kept = load_job(Path(job)).job.logs
            both = (kept.columns.model_dump(), kept.units.model_dump())
            columns, units = ({k: v for k, v in said.items() if v is not None} for said in both)
            return columns, units
    return {}, {}


def _brief(log: Any) -> dict[str, Any]:
    from sumpwright.logs.log import ROLES

    channels = [
        {
            "role": channel.role,
            "means": ROLES[channel.role][1],
            "column": channel.column,
            "unit": channel.unit,
            "how": channel.how,
            "count": len(channel.time),
            "rate_hz": channel.rate,
        }
        for channel in log.channels.values()
    ]
    ends = [float(c.time[-1]) for c in log.channels.values() if len(c.time)]
    return {
        "layout": log.dialect,
        "duration_s": max(ends, default=0.0),
        "channels": channels,
        "unused": list(log.unused)[:200],
        "typed": log.typed,
    }


def main(text: str) -> None:
    """Bind this process, read the file, and say what was found on what was standard output."""
    asked = json.loads(text)
    bind(memory=int(asked["memory"]), seconds=int(asked["seconds"]))
    told = os.dup(1)
    os.dup2(2, 1)  # libraries print what they like; none of it is an answer
    answer = json.dumps(read(asked), allow_nan=False, ensure_ascii=True)
    with os.fdopen(told, "w", encoding="ascii") as stream:
        stream.write(answer)


if __name__ == "__main__":
    main(sys.argv[1])
