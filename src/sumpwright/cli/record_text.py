# SPDX-License-Identifier: Apache-2.0
"""What is filed, and what it proves of the part as it is, as text."""

from pathlib import Path

from sumpwright.job.load import load_job
from sumpwright.job.record_load import load_records
from sumpwright.job.revision import part_hash
from sumpwright.studies.proof_case import set_aside


def filed_text(folder: Path) -> str:
    """One line for every record, then every broken one."""
    loaded, records = load_job(folder), load_records(folder)
    part, aside = part_hash(loaded), set_aside(records)
    lines = [f"{loaded.job.job}, revision {loaded.job.revision}, part {part[:12]}", ""]
    for filed in records.filed:
        r = filed.record
        state = "counts"
        if filed.name in aside:
            state = f"set aside by {aside[filed.name]}"
        elif (r.part_hash, r.revision) != (part, loaded.job.revision):
            state = f"stale: revision {r.revision}, part {r.part_hash[:12]}"
        lines.append(f"  {r.made:%Y-%m-%d %H:%M}  {filed.name}  {r.by}  ({state})")
    if not records.filed:
        lines.append("  nothing is filed yet: sumpwright record JOB --blank KIND prints a form")
    lines += [f"\n{problem}" for problem in records.problems]
    return "\n".join(lines)
