# SPDX-License-Identifier: Apache-2.0
"""`sumpwright open [JOB]`: the page of a job, on this machine alone."""

from pathlib import Path
from typing import Annotated

import typer


def open_command(
    job: Annotated[
        Path | None,
        typer.Argument(
            metavar="[JOB]",
            readable=False,
            help="The job folder, or its job.yaml; without one, a page to start from.",
        ),
    ] = None,
    port: Annotated[
        int | None, typer.Option(metavar="N", help="Of this machine; without it, a free one.")
    ] = None,
    no_browser: Annotated[
        bool, typer.Option("--no-browser", help="Print the address and open no browser.")
    ] = False,
) -> None:
    """Show a job as a page in the browser: the pan in 3D, its verdict, its numbers, its logs.

    Only this machine reaches the page, and only by the address that is printed. It runs until
    Ctrl-C. Example: sumpwright open my-pan
    """
    from sumpwright.web.serve import open_page

    open_page(job, port=port, show=not no_browser, say=typer.echo)
