# SPDX-License-Identifier: Apache-2.0
"""The command line: one file per command, and the screen that teaches the whole tool."""

import codecs
import os
import sys
from typing import Any

import typer
from typer.core import TyperGroup

from sumpwright import __version__
from sumpwright.cli.check import check
from sumpwright.cli.compartments import compartments
from sumpwright.cli.door import door
from sumpwright.cli.drive import drive
from sumpwright.cli.feed import feed
from sumpwright.cli.halves import halves
from sumpwright.cli.history import history
from sumpwright.cli.hold import hold
from sumpwright.cli.housing import housing
from sumpwright.cli.make import make
from sumpwright.cli.measure import measure
from sumpwright.cli.new import new
from sumpwright.cli.open import open_command
from sumpwright.cli.plan import plan
from sumpwright.cli.prints import prints
from sumpwright.cli.rail import rail
from sumpwright.cli.read import read
from sumpwright.cli.record import record
from sumpwright.cli.release import release
from sumpwright.cli.revise import revise
from sumpwright.cli.set import set_command
from sumpwright.cli.shape import shape
from sumpwright.cli.sheets import sheets
from sumpwright.cli.space import space

HELP = """\
Usage: sumpwright COMMAND ...
Says whether a low-profile wet-sump oil pan clears the car and keeps its pickup
covered, what to make and test, and whether the tests release it. A job is a
folder you can mail: job.yaml (typed: 4.6 L, 0.5 in), geometry/, tests/,
records/ and out/. Begin with: sumpwright new my-pan, sumpwright open my-pan

  new      a job that already runs      open          all of it, as a page
  set      change one value of it       revise        keep this revision, go on
  measure  what one body holds          check         the verdict; a report
  rail     bolt holes, as measured      space         litres that are still free
  shape    the pan from numbers         compartments  what baffles make of it
  hold     how long at what g           drive         the oil in motion, in time
  feed     pump inlet, cold and hot     housing       pickup, screen and flange
  halves   split, cutters, stock, weld  sheets        baffles and doors, flat
  prints   pieces to try the fit        make          the pack for the shop
  plan     test day: stages, sheets     read          dips in logged pressure
  record   file what was seen           history       what each revision changed
  release  the dossier, or what it lacks

Exit status: 0 met, 1 not met, 2 a problem with the input, 130 stopped. More:
COMMAND --help, --version, docs/job-file.md, docs/problems.md, docs/commands.md.
Figures aid judgement and release nothing: prove a pan before you trust it.
"""


_PLAIN = {"−": "-", "≥": ">=", "°": " deg", "²": "2", "³": "3", "·": "*", "×": "x", "–": "-"}
"""Signs in what is said, for code pages that do not have them."""


class _Screen(TyperGroup):
    """The group of commands, with its help written by hand."""

    def format_help(self, ctx: Any, formatter: Any) -> None:
        formatter.write(HELP)


app = typer.Typer(
    cls=_Screen,
    add_completion=False,
    rich_markup_mode=None,
    pretty_exceptions_enable=False,
    no_args_is_help=True,
    context_settings={"help_option_names": ["-h", "--help"]},
)


def _print_version(wanted: bool) -> None:
    if wanted:
        typer.echo(f"sumpwright {__version__}")
        raise typer.Exit


@app.callback()
def _options(
    version: bool = typer.Option(False, "--version", callback=_print_version, is_eager=True),
) -> None:
    pass


app.command("measure")(door(measure))
app.command("new")(door(new))
app.command("check")(door(check))
app.command("compartments")(door(compartments))
app.command("drive")(door(drive))
app.command("feed")(door(feed))
app.command("hold")(door(hold))
app.command("rail")(door(rail))
app.command("space")(door(space))
app.command("shape")(door(shape))
app.command("housing")(door(housing))
app.command("halves")(door(halves))
app.command("sheets")(door(sheets))
app.command("prints")(door(prints))
app.command("make")(door(make))
app.command("plan")(door(plan))
app.command("read")(door(read))
app.command("record")(door(record))
app.command("history")(door(history))
app.command("release")(door(release))
app.command("set", context_settings={"ignore_unknown_options": True})(door(set_command))
app.command("open")(door(open_command))
app.command("revise")(door(revise))


def _plainer(error: UnicodeError) -> tuple[str, int]:
    """Stands in for characters that an old code page does not have; a minus stays a minus."""
    if not isinstance(error, UnicodeEncodeError):
        raise error
    missing = error.object[error.start : error.end]
    return "".join(_PLAIN.get(c, "?") for c in missing), error.end


def run() -> None:
    """Entry point of the `sumpwright` command."""
    codecs.register_error("plainer", _plainer)
    # Our systems of equations are small: a second thread of the array library only waits there.
    # On 2 busy cores the demo's log took 11.0 s with two threads, 5.4 to 6.8 s with one.
    os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")
    for stream in (sys.stdout, sys.stderr):
        if hasattr(stream, "reconfigure"):
            stream.reconfigure(errors="plainer")
    try:
        app(prog_name="sumpwright")
    except BrokenPipeError:  # the reader, such as `head`, has seen enough
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
        sys.exit(1)
