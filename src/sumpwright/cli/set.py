# SPDX-License-Identifier: Apache-2.0
"""`sumpwright set JOB KEY VALUE`: one value changed, comments kept."""

from pathlib import Path
from typing import Annotated

import typer


def set_command(
    job: Annotated[
        Path, typer.Argument(metavar="JOB", readable=False, help="The job folder, or its job.yaml.")
    ],
    key: Annotated[
        str, typer.Argument(metavar="KEY", help="Such as oil.fill, or obstacles.rack.clearance.")
    ],
    value: Annotated[
        list[str], typer.Argument(metavar="VALUE", help="With its unit; null takes the value out.")
    ],
) -> None:
    """Change one value in job.yaml; the rest of the file stays as it is, byte for byte.

    Refused, with nothing written, where the new value would be a problem. Example:
    sumpwright set my-pan oil.fill 4.9 qt
    """
    from sumpwright.job.save import set_value
    from sumpwright.studies.grade import grade_problems

    change = set_value(job, key, " ".join(value), (grade_problems,))
    typer.echo(f"{change.path.name}:{change.line}  {change.key}: {change.before} -> {change.after}")
    if change.left:
        typer.echo(f"{len(change.left)} other problem(s) left; sumpwright check lists them")
