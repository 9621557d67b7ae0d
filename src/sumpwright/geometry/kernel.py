# SPDX-License-Identifier: Apache-2.0
"""Compiled kernels and the threads that run them.

Kernels are single-threaded, release the interpreter's lock and are cached on disk; callers spread
independent pieces over plain threads. So there is no threading layer of the compiler to install,
to crash on fork or to abort when two callers meet (docs/decisions/threads-not-prange.md).
"""

import os
from collections.abc import Callable, Iterator
from contextlib import contextmanager, suppress
from pathlib import Path
from typing import Any, TypeVar, cast

import numpy as np
from numpy.typing import NDArray

from sumpwright.geometry.kernel_stamp import kernel_stamp

F = TypeVar("F", bound=Callable[..., Any])


def compiled(kernel: F) -> F:
    """`kernel` compiled on first use, cached on disk, free of the interpreter's lock.

    Parameters
    ----------
    kernel : function [-]
        Of the subset of Python the compiler takes.

    Returns
    -------
    kernel : function [-]
    """
    return _compiled(kernel)


def compiled_lean(kernel: F) -> F:
    """As `compiled`, for small kernels: nothing is counted, and callers take their code in.

    Every call of a plain kernel passes the counts of all the arrays it is given up and down, which
    is most of the time of a function that does little with many: left out, six times as fast. And
    a tuple of arrays is passed number by number, which a caller that has taken the code in is
    spared: a network's step 21 -> 13 us. Such a kernel makes no array, takes no slice but a view,
    and its caller keeps what it passes alive, as any caller does.

    Parameters
    ----------
    kernel : function [-]
        That makes no array.

    Returns
    -------
    kernel : function [-]
    """
    return _compiled(kernel, _nrt=False, forceinline=True)


def _compiled(kernel: F, **options: bool) -> F:
    import numba

    _COMPILER.listen()
    try:
        made = numba.njit(nogil=True, cache=True, error_model="numpy", **options)(kernel)
        with suppress(AttributeError):  # the compiler's own stamp, of this one file, stays
            made._cache._cache_file._source_stamp = _stamp(kernel)
        return cast(F, made)
    except RuntimeError as err:
        if "cannot cache" not in str(err):
            raise
        # no folder can keep the code, neither ours nor the person's own: compile every time
        return cast(F, numba.njit(nogil=True, error_model="numpy", **options)(kernel))


def _stamp(kernel: Callable[..., Any]) -> str:
    path = Path(kernel.__code__.co_filename)
    try:
        return kernel_stamp(path, Path(__file__).parents[1])
    except OSError:  # made up in memory, by a test
        return ""


class _Compiler:
    """Hears the compiler start; one a process, since there is one compiler."""

    def __init__(self) -> None:
        self.tell: Callable[[], None] | None = None
        self._listens = False

    def listen(self) -> None:
        """Register with the compiler, once."""
        if self._listens:
            return
        from numba.core import event

        heard = {"on_start": lambda _, event: self._started(), "on_end": lambda _, event: None}
        event.register("numba:compile", type("Heard", (event.Listener,), heard)())
        self._listens = True

    def _started(self) -> None:
        """Called by the compiler, but not for code that it found on the disk."""
        tell, self.tell = self.tell, None
        if tell is not None:
            tell()


_COMPILER = _Compiler()


@contextmanager
def compiling_told(tell: Callable[[], None]) -> Iterator[None]:
    """While it is entered, `tell` is called once if a kernel has to be compiled.

    Parameters
    ----------
    tell : function [-]
        Takes nothing; says that this takes its time.
    """
    before, _COMPILER.tell = _COMPILER.tell, tell
    try:
        yield
    finally:
        _COMPILER.tell = before


def thread_count() -> int:
    """Threads to use: SUMPWRIGHT_THREADS where set, else the cores this process may use."""
    asked = os.environ.get("SUMPWRIGHT_THREADS", "")
    if asked.isdigit() and int(asked) > 0:
        return int(asked)
    affinity = getattr(os, "sched_getaffinity", None)  # not on Windows or macOS
    return len(affinity(0)) if affinity else (os.cpu_count() or 1)


def run_in_threads(work: Callable[[NDArray[np.int64]], None], count: int) -> None:
    """Run `work` over the item numbers 0 to `count`, in contiguous pieces, one a thread.

    Parameters
    ----------
    work : function [-]
        Takes an array of item numbers; writes its answers where the caller put them.
    count : int [-]
        Number of items.
    """
    threads = min(thread_count(), count)
    if threads < 2:
        if count:
            work(np.arange(count))
        return
    pieces = np.array_split(np.arange(count), threads)
    from concurrent.futures import ThreadPoolExecutor

    with ThreadPoolExecutor(threads) as pool:
        for done in [pool.submit(work, piece) for piece in pieces]:
            done.result()


def run_each_in_threads(
    work: Callable[[int], None], count: int, told: Callable[[int], None] | None = None
) -> None:
    """Run `work` on each item number 0 to `count`, dealt out one at a time.

    For items that take unlike long. Where it is interrupted, what has not begun never begins.

    Parameters
    ----------
    work : function [-]
        Takes an item number; writes its answer where the caller put it.
    count : int [-]
        Number of items.
    told : function or None [-]
        Takes how many items are done, in the caller's own thread.
    """
    from concurrent.futures import ThreadPoolExecutor

    with ThreadPoolExecutor(max(1, min(thread_count(), count))) as pool:
        jobs = [pool.submit(work, k) for k in range(count)]
        try:
            for k, job in enumerate(jobs):
                job.result()
                if told is not None:
                    told(k + 1)
        except BaseException:
            pool.shutdown(wait=False, cancel_futures=True)
            raise
