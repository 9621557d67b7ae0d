# SPDX-License-Identifier: Apache-2.0
"""Parts, welds, bolt order and inspection as tables: for the page, and as CSV."""

import csv
import io
from collections import Counter
from collections.abc import Iterable, Sequence

from sumpwright.metal.cost import total_cost
from sumpwright.report.table import Table
from sumpwright.report.text import plain
from sumpwright.studies.make_result import Made
from sumpwright.studies.part import Part
from sumpwright.units import shown

_FORMULA = ("=", "+", "-", "@", "\t", "\r")
NO_PRICE = "no price"
FOLDERS = {"sheets": "flat", "prints": "print"}
PARTS = (
    "key", "name", "how", "count", "material", "mass_kg", "stock", "stock_kg", "cost", "total",
    "currency", "files", "note",
)  # fmt: skip


def csv_bytes(head: Sequence[str], rows: Iterable[Sequence[object]]) -> bytes:
    """A table that spreadsheets open without running anything in it."""
    stream = io.StringIO()
    writer = csv.writer(stream, lineterminator="\r\n")
    writer.writerow(head)
    for row in rows:
        writer.writerow([guarded(cell) for cell in row])
    return stream.getvalue().encode("utf-8")


def guarded(cell: object) -> object:
    """Words that a spreadsheet would take for a formula, made words; numbers stay numbers."""
    if isinstance(cell, str) and (cell.startswith(_FORMULA) or cell.lstrip().startswith(_FORMULA)):
        return f"'{cell}"
    return "" if cell is None else cell


def packed(name: str) -> str:
    """Where a part's file lies in the pack."""
    folder, _, last = name.rpartition("/")
    return f"{FOLDERS.get(folder, 'cad')}/{last}"


def parts_csv(made: Made) -> bytes:
    """Every line of the parts list, SI masses, costs in the job's currency."""
    return csv_bytes(PARTS, (_csv_row(part, made.currency) for part in made.parts))


def _csv_row(part: Part, currency: str) -> tuple[object, ...]:
    one = None if part.cost is None else round(part.cost, 2)
    total = None if part.cost is None else round(part.count * part.cost, 2)
    masses = (None if m is None else round(m, 4) for m in (part.mass, part.stock_mass))
    mass, stock = masses
    return (
        part.key, part.name, part.how, part.count, part.material, mass, part.stock, stock, one,
        total, currency if total is not None else "", " ".join(map(packed, part.files)), part.note,
    )  # fmt: skip


def parts_tables(made: Made) -> tuple[Table, ...]:
    """Made parts, prints and bought ones, and the sum."""
    groups = (
        ("parts-made", "Parts to make", [p for p in made.parts if _made(p)]),
        ("parts-print", "Prints to try the fit", [p for p in made.parts if p.how == "printed"]),
        ("parts-bought", "Parts to buy", [p for p in made.parts if p.how == "bought"]),
    )
    return tuple(_parts(made, *group) for group in groups if group[2])


def _made(part: Part) -> bool:
    return part.how not in ("printed", "bought")


def _parts(made: Made, key: str, title: str, parts: list[Part]) -> Table:
    units, money = made.loaded.job.units, made.currency
    often = Counter(p.name for p in parts)
    rows = tuple(
        (
            _named(p, twice=often[p.name] > 1),
            str(p.count),
            plain("; ".join(w for w in (p.material, p.stock, p.note) if w)) or "–",
            "–" if p.mass is None else _mass(p.mass, units),
            NO_PRICE if p.cost is None else f"{p.count * p.cost:.2f}",
        )
        for p in parts
    )
    total = total_cost((p.count, p.cost) for p in parts)
    note = f"Together {total.cost:.2f} {money}. Prices are the job's own; mass of one."
    if total.unpriced:
        note = (
            f"Together {total.cost:.2f} {money}, without {total.unpriced} of {len(parts)} lines "
            f"that have no price. {_mend(parts)}"
        )
    head = ("Part", "Count", "Material, stock, note", "Mass", plain(money))
    return Table(key, title, head, rows, note=note, words=(0, 2))


def _named(part: Part, *, twice: bool) -> str:
    """Its name, and its key where the name is not its own or the key is what prices it."""
    key = part.key.removeprefix("print-")
    bare = part.how == "bought" and part.cost is None
    return plain(f"{part.name} ({key})" if twice or bare else part.name)


def _mend(parts: list[Part]) -> str:
    """What would give the lines without a price one."""
    if parts[0].how == "bought":
        keys = [p.key for p in parts if p.cost is None]
        return f"`shop.bought` prices them: {{ line: {keys[0]}, name: ..., price: ... }}."
    return "`shop.prices`, `shop.stock` and `shop.sheets` bring them; mass of one."


def _mass(mass: float, units: str) -> str:
    if units == "us":
        return f"{mass / 0.45359237:.2f} lb" if mass > 0.0045 else f"{mass / 0.028349523:.2f} oz"
    return f"{1e3 * mass:.0f} g" if mass >= 1e-3 else f"{1e3 * mass:.1f} g"


WELDS = (
    "weld", "where", "length_mm", "thickness_mm", "metal", "prepared", "note", "welder", "date",
    "result",
)  # fmt: skip


def welds_csv(made: Made) -> bytes:
    """The weld list."""
    rows = (
        (
            w.name,
            w.where,
            _mm(w.length_m),
            _mm(w.thickness_m),
            w.metal,
            w.prepared,
            w.note,
            "",
            "",
            "",
        )
        for w in made.welds
    )
    return csv_bytes(WELDS, rows)


def welds_table(made: Made) -> Table | None:
    """The weld list, with room to sign."""
    if not made.welds:
        return None
    units = made.loaded.job.units
    rows = tuple(
        (
            w.name,
            plain(w.where),
            shown(w.length_m, "length", units, digits=0 if units == "metric" else 1),
            shown(w.thickness_m, "length", units),
            plain("; ".join(part for part in (w.metal, w.prepared, w.note) if part)),
            "",
        )
        for w in made.welds
    )
    note = " ".join(
        (
            "Tack on opposite sides in turn, weld in short runs from the middle outward, let it "
            "cool.",
            *(plain(said) for said in made.weld_notes),
            "A qualified welder's own procedure goes before this.",
        )
    )
    head = ("Weld", "Where", "Length", "Thickness", "Preparation", "Welded by, date")
    return Table("welds", "Weld list", head, rows, note=note, words=(0, 1, 4, 5))


def bolts_csv(made: Made) -> bytes:
    """Order of the bolts."""
    head = ("turn", "hole", "x_mm", "y_mm")
    return csv_bytes(head, ((b.turn, b.name, _mm(b.at_m[0]), _mm(b.at_m[1])) for b in made.bolts))


def inspection_csv(made: Made) -> bytes:
    """The inspection sheet, with empty columns to fill in."""
    head = ("what", "asked", "how", "found", "ok", "by", "date")
    return csv_bytes(head, ((m.what, m.asked, m.how, "", "", "", "") for m in made.measures))


def _mm(value: float | None) -> float | None:
    return None if value is None else round(1e3 * value, 3)
