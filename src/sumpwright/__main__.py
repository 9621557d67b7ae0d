# SPDX-License-Identifier: Apache-2.0
"""`python -m sumpwright` is the command `sumpwright`."""

from sumpwright.cli.main import run

if __name__ == "__main__":
    run()
