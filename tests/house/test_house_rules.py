# SPDX-License-Identifier: Apache-2.0
"""The house rules, checked by machine."""

import ast
import importlib
import inspect
import pkgutil
import re
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path
from types import ModuleType
from typing import Any

import pytest

import sumpwright
import sumpwright.geometry
import sumpwright.logs
import sumpwright.metal
import sumpwright.oil
import sumpwright.vehicle

ROOT = Path(__file__).parents[2]
SRC = Path(sumpwright.__file__).parent
PYTHON = sorted(p for top in ("src", "tests", "tools", "bench") for p in (ROOT / top).rglob("*.py"))
CODE = sorted(SRC.rglob("*.py"))
LONGEST_FILE = 300
PARAMETER = re.compile(r"^(\w+) : .*\[[^\]]+\]", re.MULTILINE)
SOURCE_KEY = re.compile(r"\[([A-Z][A-Za-z0-9]*(?:-[A-Za-z0-9.]+)+)\]")
PROBLEM_CODE = re.compile(r"[\"']([A-Z]{3,5}-\d{3})[\"']")


def modules(package: ModuleType) -> Iterator[ModuleType]:
    for found in pkgutil.walk_packages(package.__path__, package.__name__ + "."):
        yield importlib.import_module(found.name)


def core_functions() -> Iterator[Any]:
    packages = (sumpwright.oil, sumpwright.geometry, sumpwright.vehicle, sumpwright.logs)
    for package in (*packages, sumpwright.metal):
        for module in modules(package):
            for name, function in inspect.getmembers(module, callable):
                plain = inspect.unwrap(getattr(function, "py_func", function))
                if not inspect.isfunction(plain) or name.startswith("_"):
                    continue
                if plain.__module__ == module.__name__:
                    yield pytest.param(plain, id=f"{module.__name__}.{name}")


@pytest.mark.parametrize("function", list(core_functions()))
def test_a_core_function_gives_a_unit_for_every_argument_in_order(function: Any) -> None:
    text = inspect.cleandoc(function.__doc__ or "").split("Returns\n")[0]
    assert PARAMETER.findall(text) == list(inspect.signature(function).parameters)


@pytest.mark.parametrize("path", CODE, ids=lambda p: str(p.relative_to(SRC)))
def test_a_file_of_the_source_is_short_and_says_what_it_is(path: Path) -> None:
    text = path.read_text("utf-8")
    assert len(text.splitlines()) <= LONGEST_FILE
    assert text.startswith("# SPDX-License-Identifier: Apache-2.0\n")
    assert ast.get_docstring(ast.parse(text)), "no docstring on top"


@pytest.mark.parametrize("path", PYTHON, ids=lambda p: str(p.relative_to(ROOT)))
def test_every_file_carries_the_licence_line_first(path: Path) -> None:
    assert path.read_text("utf-8").startswith("# SPDX-License-Identifier: Apache-2.0\n")


def functions_of(path: Path) -> Iterator[ast.FunctionDef]:
    for node in ast.walk(ast.parse(path.read_text("utf-8"))):
        if isinstance(node, ast.FunctionDef):
            yield node


def code_lines(node: ast.FunctionDef) -> int:
    body = node.body[1:] if ast.get_docstring(node) else node.body
    return body[-1].end_lineno - body[0].lineno + 1 if body else 0  # type: ignore[operator]


def test_no_function_of_the_source_is_over_forty_lines_of_code() -> None:
    long = [
        f"{path.relative_to(SRC)}:{node.lineno} {node.name}: {code_lines(node)}"
        for path in CODE
        for node in functions_of(path)
        if code_lines(node) > 40
    ]
    assert not long


def test_a_command_s_body_is_at_most_ten_statements_long() -> None:
    from sumpwright.cli.main import app

    for command in app.registered_commands:
        function = inspect.unwrap(command.callback)
        (node,) = ast.parse(inspect.getsource(function)).body
        assert isinstance(node, ast.FunctionDef)
        assert code_lines(node) <= 10, command.name


def test_every_command_is_taught_on_the_help_screen_and_in_the_documentation() -> None:
    from sumpwright.cli.main import HELP, app

    pages = (ROOT / "README.md", *(ROOT / "docs").glob("*.md"))
    documented = "\n".join(page.read_text("utf-8") for page in pages)
    for command in app.registered_commands:
        assert re.search(rf"^  (.*  )?{command.name}  ", HELP, re.MULTILINE), command.name
        assert f"sumpwright {command.name} " in documented, command.name


def test_every_source_key_in_the_code_has_its_entry() -> None:
    listed = set(re.findall(r"^#+ \[([^\]]+)\]", _page("sources.md"), re.MULTILINE))
    files = [p for p in SRC.rglob("*") if p.suffix in (".py", ".csv")]
    used = {key: path.name for path in files for key in SOURCE_KEY.findall(path.read_text("utf-8"))}
    used = {key: name for key, name in used.items() if not key.startswith("A-Z")}  # a pattern's
    assert {key: name for key, name in used.items() if key not in listed} == {}


def test_every_problem_code_has_its_heading_and_every_heading_its_code() -> None:
    headings = re.findall(r"^#+ ([A-Z]{3,5}-\d{3})\b", _page("problems.md"), re.MULTILINE)
    assert len(headings) == len(set(headings))
    used = {code for path in CODE for code in PROBLEM_CODE.findall(path.read_text("utf-8"))}
    assert used - set(headings) == set(), "codes without a heading"
    assert set(headings) - used == set(), "headings without a code"


def _page(name: str) -> str:
    return (ROOT / "docs" / name).read_text("utf-8")


def test_the_page_of_the_job_file_is_the_schema_s_own() -> None:
    done = subprocess.run(
        [
            sys.executable,
            "-c",
            "from write_docs import job_file_page; print(job_file_page(), end='')",
        ],
        cwd=ROOT / "tools",
        capture_output=True,
        text=True,
        encoding="utf-8",
        check=True,
    )
    assert done.stdout == _page("job-file.md"), "run `make docs`"
