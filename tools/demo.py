# SPDX-License-Identifier: Apache-2.0
"""What `make demo` runs: the demo job's two revisions through the command line, as a person would.

Revision A must fail and revision B must pass; any other outcome is an error of this program.
"""

import shutil
import subprocess
import sys
from pathlib import Path

ROOT = Path(__file__).resolve().parents[1]
EXPECTED = {"examples/demo-a": 1, "examples/demo-b": 0}
"""Exit status of each revision: 1 a requirement is not met, 0 all that can be judged are met."""
SAYS = {0: "met", 1: "not met"}


def main() -> int:
    """Check both revisions; 0 where both came out as they should."""
    print("One car, one engine, one pan in two revisions. All of it is invented.\n", flush=True)
    status = {job: _check(job) for job in EXPECTED}
    print("Reports:")
    written = [_point_at(job, found) for job, found in status.items()]
    if status != EXPECTED:
        print(f"\nExpected exit statuses {EXPECTED}, got {status}", file=sys.stderr)
    return 0 if status == EXPECTED and all(written) else 1


def _report(job: str) -> Path:
    return ROOT / job / "out" / "report.html"


def _check(job: str) -> int:
    command = shutil.which("sumpwright", path=str(Path(sys.executable).parent))
    if command is None:
        raise SystemExit("sumpwright is not installed beside this Python; run `make demo`")
    _report(job).unlink(missing_ok=True)  # an old one must not stand in for one not written
    print(f"$ sumpwright check {job}", flush=True)
    status = subprocess.run([command, "check", job], cwd=ROOT, check=False).returncode
    print(flush=True)
    return status


def _point_at(job: str, status: int) -> bool:
    """Say where the report is; False where there is none."""
    report = _report(job)
    print(f"  {job}  {SAYS.get(status, f'exit status {status}')}")
    written = report.is_file()
    print(f"    {report}\n    {report.as_uri()}" if written else f"    no report at {report}")
    return written


if __name__ == "__main__":
    sys.exit(main())
