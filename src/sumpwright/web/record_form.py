# SPDX-License-Identifier: Apache-2.0
"""Records for the page: what is filed, a blank form as fields, and a filled-in form filed once."""

from collections.abc import Callable, Iterator, Mapping
from dataclasses import asdict
from pathlib import Path
from typing import Any

from starlette.requests import Request
from starlette.responses import JSONResponse, Response
from starlette.routing import Route

from sumpwright.web import photo

Json = dict[str, Any]
_ROWS = {"rows": 6, "welds": 3, "findings": 4}
"""Entries set out where there may be any number."""
_SKIPPED = ("kind", "by", "note", "revision", "part_hash", "input_hash", "made")
_LABELS = {("FitFinding", "by"): {"label": "By how much"}}
"""Where the key alone would read as another one's of the same form."""
STAMPS = ("revision", "part_hash", "input_hash")
"""Of the part that a form was opened for."""


def records_json(folder: Path) -> Json:
    """What is filed; runs in the worker."""
    from sumpwright.studies.record_list import record_list

    return record_list(folder).as_json()


def form_json(folder: Path, kind: str) -> Json:
    """A blank form of a kind, as fields; runs in the worker."""
    from sumpwright.errors import InputError, Problem
    from sumpwright.job.load import load_job
    from sumpwright.job.record import KINDS
    from sumpwright.job.revision import input_hash, part_hash

    schema = KINDS.get(kind)
    if schema is None:
        known = ", ".join(KINDS)
        raise InputError(
            [Problem("REC-302", "the kind of form", kind, known, "choose one of these")]
        )
    loaded = load_job(folder)
    names = [name for name in schema.model_fields if name not in _SKIPPED]
    return {
        "kind": kind,
        "says": (schema.__doc__ or "").strip(),
        "revision": loaded.job.revision,
        "part_hash": part_hash(loaded),
        "input_hash": input_hash(loaded),
        "fields": [f for name in ("by", *names, "note") for f in _fields(schema, name, loaded)],
    }


def file_form(
    folder: Path, kind: str, stamps: Mapping[str, Any], values: Mapping[str, Any]
) -> Json:
    """File what was typed into a form; the record's name. Runs in the worker."""
    from sumpwright.job.record import KINDS
    from sumpwright.studies.record import write_record

    typed = _typed(values)
    said = {key: str(stamps[key]) for key in STAMPS if isinstance(stamps.get(key), str)}
    typed = typed if (schema := KINDS.get(kind)) is None else _spread(schema, typed)
    rest = {key: value for key, value in typed.items() if key not in _SKIPPED[3:]}
    path = write_record(folder, {"kind": kind, **said, **rest})
    return {"filed": path.name}


def _fields(schema: Any, name: str, loaded: Any) -> Iterator[Json]:
    from sumpwright.job.schema import need_of

    field, need = schema.model_fields[name], need_of(schema, name)
    if need.kind != "list":
        yield {**_field(name, field, need), **_LABELS.get((schema.__name__, name), {})}
        return
    said = {
        "key": name,
        "label": name.replace("_", " ").capitalize(),
        "says": field.description or "",
        "required": field.is_required(),
        "fixed": name == "doors",
    }
    item = need.item
    if name == "photos":
        yield {**said, "kind": "photos"}
    elif _is_place(need):
        yield {**said, "kind": "place", "needed": "x, y, z, each with its unit"}
    elif item is None or item.section is None:
        yield {**said, "kind": "lines", "words": _known(name, loaded)}
    else:
        given = _doors(loaded) if name == "doors" else []
        if name == "doors" and not given:
            return
        inner = [f for key in item.section.model_fields for f in _fields(item.section, key, loaded)]
        rows = _ROWS.get(name, 0)
        yield {**said, "kind": "rows", "fields": inner, "given": given, "rows": rows}


def _is_place(need: Any) -> bool:
    """So many values, which a form takes in one line."""
    return need.kind == "list" and need.length is not None and need.item.section is None


def _spread(schema: Any, values: Json) -> Json:
    """What was typed in one line of several values as the list that a file has."""
    from sumpwright.job.schema import need_of

    found = dict(values)
    for key, value in values.items():
        need = need_of(schema, key) if key in schema.model_fields else None
        if need is None or need.kind != "list":
            continue
        if _is_place(need) and isinstance(value, str):
            found[key] = [part.strip() for part in value.strip("[] ").split(",")]
        elif need.item is not None and need.item.section is not None and isinstance(value, list):
            inner = need.item.section
            found[key] = [_spread(inner, v) if isinstance(v, dict) else v for v in value]
    return found


def _field(name: str, field: Any, need: Any) -> Json:
    return {
        "key": name,
        "label": name.replace("_", " ").capitalize(),
        "says": field.description or "",
        "kind": need.kind,
        "needed": need.needed,
        "words": list(need.words),
        "required": field.is_required(),
    }


def _known(name: str, loaded: Any) -> list[str]:
    """What a line may be, where that is known: records that a decision may set aside."""
    from sumpwright.job.record_load import load_records

    return [f.name for f in load_records(loaded.folder).filed] if name == "set_aside" else []


def _doors(loaded: Any) -> list[Json]:
    from sumpwright.studies.record import doors_of

    return [{"baffle": baffle, "door": door} for baffle, door in doors_of(loaded)]


def _typed(value: Any) -> Any:
    """What was typed as a file has it: texts, yes and no; what was left empty is left out."""
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, Mapping):
        kept = {str(key): _typed(inner) for key, inner in value.items()}
        return {key: inner for key, inner in kept.items() if inner not in ("", {}, [])}
    if isinstance(value, list):
        return _without_blank_end([_typed(inner) for inner in value])
    if value is None:
        return ""
    plain = str(value).encode("utf-8", "replace").decode("utf-8")
    return "".join(c for c in plain if c == "\n" or c.isprintable()).strip()


def _without_blank_end(rows: list[Any]) -> list[Any]:
    while rows and rows[-1] in ("", {}, []):
        rows.pop()
    return rows


async def _records(request: Request) -> Response:
    return JSONResponse(await request.app.state.desk.live("records"))


async def _form(request: Request) -> Response:
    kind = request.query_params.get("kind", "")
    return JSONResponse(await request.app.state.desk.live("record_form", kind))


async def _file(request: Request) -> Response:
    from sumpwright.web.sent import body_of

    body = await body_of(request)
    stamps, values = body.get("stamps"), body.get("values")
    kind = str(body.get("kind", ""))
    args = kind, _object(stamps), _object(values)
    return JSONResponse(await request.app.state.desk.live("file_form", *args))


def _object(value: Any) -> Json:
    return value if isinstance(value, dict) else {}


async def _cautions(_request: Request) -> Response:
    from sumpwright.report.caution import cautions, motion_cautions

    rows = dict.fromkeys((*motion_cautions(), *cautions()))
    return JSONResponse([asdict(c) for c in rows])


ROUTES = [
    Route("/api/records", _records),
    Route("/api/record", _file, methods=["POST"]),
    Route("/api/record/form", _form),
    Route("/api/cautions", _cautions),
    *photo.ROUTES,
]
LIVE: dict[str, Callable[..., Any]] = {
    "records": records_json,
    "record_form": form_json,
    "file_form": file_form,
}
"""For live_function.py"""
