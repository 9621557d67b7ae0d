# SPDX-License-Identifier: Apache-2.0
"""`sumpwright revise JOB`: keep this revision, start the next."""

from pathlib import Path
from typing import Annotated

import typer


def revise(
    job: Annotated[Path, typer.Argument(metavar="JOB", readable=False, help="The job folder.")],
    to: Annotated[
        str | None, typer.Option(metavar="NAME", help="Name it; else B follows A.")
    ] = None,
    note: Annotated[
        str, typer.Option(help="Why this revision is left behind; kept in the record.")
    ] = "",
) -> None:
    """Keep job.yaml as it stands under records/ and start the next revision in it.

    A record is written once and never changed. It holds job.yaml and the fingerprint of the
    geometry files, not the files: export a changed body under a new name.
    """
    from sumpwright.job.revision import revise as keep

    record, revision = keep(job, to, note)
    typer.echo(f"revision {revision}; the one before is kept in {record}")
