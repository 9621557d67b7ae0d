# SPDX-License-Identifier: Apache-2.0
"""One drive, 4 bar and 3000 1/min and 90 degC for 6 s, laid out as loggers and editors do.

The files stand in tests/corpus/logs; each was made up by hand, of no logger's own format. Units:
[NIST-SP811], 1 psi is 6894.757 Pa.
"""

from pathlib import Path

import numpy as np
import pytest

from sumpwright.logs.open_log import open_log

CORPUS = sorted((Path(__file__).parents[1] / "corpus" / "logs").glob("*.csv"))


def test_the_corpus_is_there() -> None:
    assert len(CORPUS) == 6


@pytest.mark.parametrize("path", CORPUS, ids=lambda p: p.stem)
def test_reads_the_same_drive_from_every_file(path) -> None:
    log = open_log(path)
    assert {"pressure", "rpm", "temperature"} <= set(log.channels)
    np.testing.assert_allclose(log["rpm"].time, 0.1 * np.arange(60), atol=1e-6)  # of 1e9 s
    np.testing.assert_allclose(log["pressure"].value, 4e5, rtol=1e-5)  # five digits of psi
    np.testing.assert_allclose(log["rpm"].value, 100.0 * np.pi, rtol=1e-12)
    np.testing.assert_allclose(log["temperature"].value, 363.15, rtol=1e-12)
    assert not log.typed
    assert not log.unused
