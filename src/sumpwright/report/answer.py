# SPDX-License-Identifier: Apache-2.0
"""What every result that is put on pages has, whichever question it answers."""

from typing import Protocol

from sumpwright.errors import Finding
from sumpwright.studies.result import Requirement


class Answer(Protocol):
    """A result with its origin and what has to be said of it."""

    @property
    def job(self) -> str: ...
    @property
    def revision(self) -> str: ...
    @property
    def input_hash(self) -> str: ...
    @property
    def code_version(self) -> str: ...
    @property
    def units(self) -> str: ...
    @property
    def findings(self) -> tuple[Finding, ...]: ...


class Judged(Answer, Protocol):
    """A result that was held against requirements."""

    @property
    def requirements(self) -> tuple[Requirement, ...]: ...
