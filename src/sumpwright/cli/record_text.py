# SPDX-License-Identifier: Apache-2.0
"""What is filed, and what it proves of the part as it is, as text."""

from pathlib import Path

from sumpwright.job.load import load_job
from sumpwright.job.record_load import load_records
from sumpwright.job.revision import part_hash
from sumpwright.studies.record_list import listed


def filed_text(folder: Path) -> str:
    """One line for every record, then every broken one."""
    loaded, records = load_job(folder), load_records(folder)
    lines = [f"{loaded.job.job}, revision {loaded.job.revision}, part {part_hash(loaded)[:12]}", ""]
    for r in listed(loaded, records):
        made = r.made[:16].replace("T", " ")
        lines.append(f"  {made}  {r.name}  {r.by}  ({r.why or 'counts'})")
    if not records.filed:
        lines.append("  nothing is filed yet: sumpwright record JOB --blank KIND prints a form")
    lines += [f"\n{problem}" for problem in records.problems]
    return "\n".join(lines)
