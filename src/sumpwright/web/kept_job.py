# SPDX-License-Identifier: Apache-2.0
"""The open job, read and parted, kept in the worker until its files change."""

from dataclasses import dataclass
from functools import cached_property
from pathlib import Path
from typing import TYPE_CHECKING, Any

from sumpwright.job.load import LoadedJob, job_path, load_job
from sumpwright.job.named_file import named_files
from sumpwright.job.revision import input_hash
from sumpwright.studies.grade import grade_problems

if TYPE_CHECKING:
    from sumpwright.studies.bodies import Bodies
    from sumpwright.studies.compartment import Parted
    from sumpwright.studies.tilt import TiltReady

Stamp = tuple[tuple[str, int, int], ...]


@dataclass(frozen=True, eq=False)
class KeptJob:
    """A job at hand; what it takes to tilt and to draw it is made when first asked for."""

    loaded: LoadedJob
    stamp: Stamp
    """Name, time and size of its files as they were read"""

    @cached_property
    def input_hash(self) -> str:
        """Of what answers depend on."""
        return input_hash(self.loaded)

    @cached_property
    def bodies(self) -> "Bodies":
        """Read and placed."""
        from sumpwright.studies.body_file import read_bodies

        return read_bodies(self.loaded)

    @cached_property
    def parted(self) -> "Parted":
        """Its new pan as the baffles part it."""
        from sumpwright.studies.compartment import parted

        return parted(self.loaded.job, self.bodies, folder=self.loaded.folder)

    @cached_property
    def tilt(self) -> "TiltReady":
        """Its new pan, filled."""
        from sumpwright.studies.tilt import tilt_ready

        return tilt_ready(self.loaded.job, self.bodies, self.parted)


_last: KeptJob | None = None


def kept_job(folder: Path) -> KeptJob:
    """The job in `folder` as its files are now; raises InputError as `load_job` does."""
    global _last
    if _last is None or _last.loaded.folder != folder or _stamp(_last.loaded) != _last.stamp:
        _last = None  # its memory goes before the next one is read
        loaded = load_job(folder, (grade_problems,))
        _last = KeptJob(loaded, _stamp(loaded))
    return _last


def tilted(folder: Path, ax: float, ay: float, mode: Any) -> dict[str, Any]:
    """The oil of the job in `folder` at one acceleration [g], as Tilt.as_json."""
    from sumpwright.studies.tilt import tilt

    return tilt(kept_job(folder).tilt, ax, ay, mode).as_json()


def _stamp(loaded: LoadedJob) -> Stamp:
    named = {text for _, text in named_files(loaded.tree.data)}
    paths = [job_path(loaded.folder), *(loaded.file(text) for text in sorted(named))]
    return tuple(_seen(path) for path in paths)


def _seen(path: Path) -> tuple[str, int, int]:
    try:
        found = path.stat()
    except OSError:
        return str(path), 0, -1
    return str(path), found.st_mtime_ns, found.st_size
