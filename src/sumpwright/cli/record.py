# SPDX-License-Identifier: Apache-2.0
"""`sumpwright record JOB`: a blank form of what was seen, or a filled-in one filed for good."""

from pathlib import Path
from typing import Annotated

import typer


def record(
    job: Annotated[Path, typer.Argument(metavar="JOB", readable=False, help="The job folder.")],
    form: Annotated[
        Path | None, typer.Argument(metavar="[FORM]", readable=False, help="A filled-in form.")
    ] = None,
    blank: Annotated[
        str,
        typer.Option(
            metavar="KIND",
            help="Print a blank form: fill-test, tilt-test, door-test, leak-test, session, "
            "teardown, fit or decision.",
        ),
    ] = "",
) -> None:
    """File a bench test, a session, a teardown, a fit or a decision under records/, once.

    A record belongs to the part it was seen on and is never changed; what turns out wrong is
    said in a new one. Print a form into a file, fill it in, and give that file:
    sumpwright record JOB --blank teardown > teardown.yaml. Without a form, lists what is filed.
    """
    from sumpwright.cli.record_text import filed_text
    from sumpwright.studies.record import blank_form, write_record

    folder = job if job.is_dir() or not job.exists() else job.parent
    if blank:
        typer.echo(blank_form(folder, blank), nl=False)
    elif form is not None:
        typer.echo(f"filed as {write_record(folder, form)}")
    else:
        typer.echo(filed_text(folder))
