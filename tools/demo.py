# SPDX-License-Identifier: Apache-2.0
"""What `make demo` runs: the demo job's revisions through the command line, as a person would.

Revision A must fail and revision B must pass, B must keep its oil through the figure-eight that
A fails, and the logs of their test days must say the same; revision C, B's pan drawn from numbers,
must come out as a pack to make it from. Any other outcome is an error of this program.
"""

import shutil
import subprocess
import sys
from dataclasses import dataclass
from pathlib import Path

ROOT = Path(__file__).resolve().parents[1]
SAYS = {0: "met", 1: "not met"}


@dataclass(frozen=True)
class Step:
    """One command, what it should come to, and the report it writes."""

    command: tuple[str, ...]
    expected: int
    """Exit status: 1 a requirement is not met, 0 all that can be judged are met"""
    report: str
    """Its page, from the project's folder"""

    @property
    def page(self) -> Path:
        """Where the page is."""
        return ROOT / self.report


A, B, C = "examples/demo-a", "examples/demo-b", "examples/demo-c"
STEPS = (
    Step(("check", A), 1, f"{A}/out/report.html"),
    Step(("check", B), 0, f"{B}/out/report.html"),
    Step(("drive", B, "eight"), 0, f"{B}/out/drive-eight.html"),
    Step(("plan", B), 0, f"{B}/out/plan.html"),
    Step(("read", A, f"{A}/tests/skidpad.csv", "--no-record"), 1, f"{A}/out/read-skidpad.html"),
    Step(("read", B, f"{B}/tests/skidpad.csv", "--no-record"), 0, f"{B}/out/read-skidpad.html"),
    Step(("release", B, "--torque", "10 N m"), 0, f"{B}/out/release-B.html"),
    Step(("make", C), 0, f"{C}/out/make/C/index.html"),
)


def main() -> int:
    """Run every step; 0 where all came out as they should."""
    print("One car, one engine, one pan in three revisions. All of it is invented.\n", flush=True)
    found = [_run(step) for step in STEPS]
    print("Reports:")
    written = [_point_at(step, status) for step, status in zip(STEPS, found, strict=True)]
    print(f"\nThe same as a page: {Path(sys.executable).parent / 'sumpwright'} open {B}")
    expected = [step.expected for step in STEPS]
    if found != expected:
        print(f"\nExpected exit statuses {expected}, got {found}", file=sys.stderr)
    return 0 if found == expected and all(written) else 1


def _run(step: Step) -> int:
    program = shutil.which("sumpwright", path=str(Path(sys.executable).parent))
    if program is None:
        raise SystemExit("sumpwright is not installed beside this Python; run `make demo`")
    step.page.unlink(missing_ok=True)  # an old one must not stand in for one not written
    print(f"$ sumpwright {' '.join(step.command)}", flush=True)
    status = subprocess.run([program, *step.command], cwd=ROOT, check=False).returncode
    print(flush=True)
    return status


def _point_at(step: Step, status: int) -> bool:
    """Say where the report is; False where there is none."""
    print(f"  {' '.join(step.command)}: {SAYS.get(status, f'exit status {status}')}")
    written = step.page.is_file()
    said = f"    {step.page}\n    {step.page.as_uri()}" if written else f"    none at {step.page}"
    print(said)
    return written


if __name__ == "__main__":
    sys.exit(main())
