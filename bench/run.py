# SPDX-License-Identifier: Apache-2.0
"""Runs every bench module's `rows()` and prints one table; names on the command line choose some.

Times are medians of several runs with nothing else to compile; peers run in the same process.
"""

import importlib
import os
import platform
import sys
from pathlib import Path

HERE = Path(__file__).parent
sys.path.insert(0, str(HERE.parent))


def main(chosen: list[str]) -> int:
    """Print the table; 1 if a promise is not kept."""
    from bench.table import Row, table
    from sumpwright.geometry.kernel import thread_count

    found = sorted(p.stem for p in HERE.glob("*.py") if p.stem not in ("run", "table"))
    rows, lines = [], []
    for name in chosen or found:
        print(f"{name} ...", file=sys.stderr, flush=True)
        for row in importlib.import_module(f"bench.{name}").rows():
            (rows if isinstance(row, Row) else lines).append(row)
    print(f"Python {platform.python_version()}, {os.cpu_count()} cores, {thread_count()} threads\n")
    print(table(rows))
    for label, text in lines:  # modules that say it in words
        print(f"{label}: {text}")
    return int(any(row.met == "NO" for row in rows))


if __name__ == "__main__":
    raise SystemExit(main(sys.argv[1:]))
