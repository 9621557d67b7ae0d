# SPDX-License-Identifier: Apache-2.0
"""Threads: every item once, errors come through, the count can be set."""

import importlib.util
import threading
from pathlib import Path
from typing import Any

import numpy as np
import pytest
from numpy.typing import NDArray

from sumpwright.geometry.kernel import compiled, compiling_told, run_in_threads, thread_count


@pytest.mark.parametrize("threads", ["1", "2", "8"])
@pytest.mark.parametrize("count", [0, 1, 2, 7, 1000])
def test_every_item_is_worked_once(
    threads: str, count: int, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("SUMPWRIGHT_THREADS", threads)
    worked = np.zeros(count, dtype=int)

    def work(items: NDArray[np.int64]) -> None:
        worked[items] += 1

    run_in_threads(work, count)
    assert (worked == 1).all()


def test_pieces_are_contiguous_and_run_side_by_side(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("SUMPWRIGHT_THREADS", "3")
    meet = threading.Barrier(3, timeout=30.0)  # never passes unless three threads are at work
    pieces = []

    def work(items: NDArray[np.int64]) -> None:
        meet.wait()
        pieces.append(items)

    run_in_threads(work, 8)
    assert sorted(len(p) for p in pieces) == [2, 3, 3]
    assert all((np.diff(p) == 1).all() for p in pieces)


def test_one_thread_stays_where_it_is(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("SUMPWRIGHT_THREADS", "1")
    names = []
    run_in_threads(lambda items: names.append(threading.current_thread().name), 5)
    assert names == [threading.current_thread().name]


@pytest.mark.parametrize("threads", ["1", "4"])
def test_an_error_in_a_thread_comes_through(threads: str, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("SUMPWRIGHT_THREADS", threads)

    def work(items: NDArray[np.int64]) -> None:
        if 9 in items:
            raise ValueError("item 9 is bad")

    with pytest.raises(ValueError, match="item 9 is bad"):
        run_in_threads(work, 10)


@pytest.mark.parametrize("odd", ["", "0", "-2", "two"])
def test_thread_count_falls_back_to_the_cores(odd: str, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("SUMPWRIGHT_THREADS", odd)
    fallback = thread_count()
    monkeypatch.delenv("SUMPWRIGHT_THREADS")
    assert fallback == thread_count() >= 1
    monkeypatch.setenv("SUMPWRIGHT_THREADS", "5")
    assert thread_count() == 5


def test_a_compiled_kernel_answers_as_the_interpreter_does() -> None:
    def fold(values: NDArray[np.float64]) -> float:
        total = 0.0
        for value in values:
            total = 0.5 * total + value
        return total

    values = np.random.default_rng(1).normal(size=100)
    assert compiled(fold)(values) == fold(values)


def _twice(path: Path) -> Any:
    """`twice` of a module that is imported afresh."""
    spec = importlib.util.spec_from_file_location("doubling", path)
    assert spec is not None
    assert spec.loader is not None
    module = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(module)
    return module.twice


def test_the_wait_for_the_compiler_is_told_once_and_only_where_there_is_one(
    tmp_path: Path,
) -> None:
    source = tmp_path / "doubling.py"
    text = "from sumpwright.geometry.kernel import compiled\n@compiled\ndef twice(x):\n    return"
    source.write_text(f"{text} 2 * x\n", encoding="utf-8")
    told: list[str] = []
    with compiling_told(lambda: told.append("first")):
        assert _twice(source)(2.0) == 4.0
        assert _twice(source)(2) == 4  # another kind of number: compiled, but told before
    assert told == ["first"]
    with compiling_told(lambda: told.append("again")):
        assert _twice(source)(2.0) == 4.0
    assert told == ["first"]
    source.write_text(f"{text} x + x  # another size\n", encoding="utf-8")
    with compiling_told(lambda: told.append("changed")):
        assert _twice(source)(2.0) == 4.0
    assert told == ["first", "changed"]
