# SPDX-License-Identifier: Apache-2.0
"""A YAML parser's complaint, in words for people who do not know YAML."""

from typing import Any

from sumpwright.errors import Problem

# Part of the parser's text -> what is needed, what to do.
_MEANING = (
    (
        "mapping values are not allowed",
        "one `key: value` on a line",
        "put text that holds ': ' in quotes, or mend the indentation of this line",
    ),
    (
        "found character '\\t'",
        "spaces for indentation",
        "replace the tab by spaces",
    ),
    (
        "that cannot start any token",
        "a plain value, or text in quotes",
        "put text that starts with a special character in quotes",
    ),
    ("quoted scalar", "a closing quote", "close the quote"),
    ("expected ',' or ']'", "`]` at the end of the list", "close the bracket, commas between"),
    ("expected ',' or '}'", "`}` at the end of the section", "close the brace, commas between"),
    (
        "expected the node content",
        "a value between every two commas, and the closing bracket",
        "fill the gap or delete the comma, and close the bracket that is open",
    ),
    (
        "could not find expected ':'",
        "a colon and a space behind the key: `key: value`",
        "add the colon",
    ),
    (
        "expected <block end>",
        "keys of one section in the same column",
        "mend the indentation of this line",
    ),
    ("another document", "one job to a file", "delete the line `---` and what follows"),
    ("undefined alias", "text in quotes where it starts with '*'", "put the value in quotes"),
    ("duplicate anchor", "each anchor name once", "rename one of the two"),
    ("special characters", "text without control characters", "save the file as plain text"),
)


def syntax_problem(text: str, name: str, err: Exception) -> Problem:
    """What the parser stumbled over, where, and how to mend it."""
    if isinstance(err, RecursionError):
        return Problem(
            "JOB-116",
            name,
            "lists or sections nested hundreds deep",
            "a job file",
            "look whether this is the right file",
        )
    said = f"{getattr(err, 'context', '')} {getattr(err, 'problem', '')} {err}"
    needed, do = next(
        ((n, d) for part, n, d in _MEANING if part in said),
        ("YAML: `key: value`, lists with `- `", "mend this line, or the one above it"),
    )
    line = _line(text, err)
    rows = text.splitlines()
    found = rows[line].strip() if line < len(rows) else "the end of the file"
    return Problem("JOB-116", f"{name}:{line + 1}", _short(found), needed, do)


def _line(text: str, err: Any) -> int:
    # a quote or bracket that never closes is mended where it opens, not at the file's end
    problem, context = getattr(err, "problem_mark", None), getattr(err, "context_mark", None)
    said = str(getattr(err, "context", "")) + str(getattr(err, "problem", ""))
    opened = "quoted scalar" in said or "flow" in said
    mark = context if opened and context is not None else problem or context
    if mark is not None:
        return int(mark.line)
    position = getattr(err, "position", None)
    return text.count("\n", 0, position) if isinstance(position, int) else 0


def _short(text: str) -> str:
    printable = "".join(c if c.isprintable() else "?" for c in text)
    return printable if len(printable) <= 60 else printable[:57] + "..."
