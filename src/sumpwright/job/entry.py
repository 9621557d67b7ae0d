# SPDX-License-Identifier: Apache-2.0
"""Add a section or a list's entry to the text of a job file, or take one out; the rest stays.

Like an edit of one value: the parser says where things stand, only that stretch changes, and the
new text must be read back as what was meant, or the edit is refused.
"""

import json
import re
from typing import Any

from sumpwright.errors import InputError
from sumpwright.job.edit import content_end, line_end, line_in, not_by_machine
from sumpwright.job.line_end import as_before, plain_text
from sumpwright.job.tree import Keys, Mark, Tree, read_tree

Part = str | list["Part"] | dict[str, "Part"]
"""Values of a job file: texts, lists and sections of them."""
_PLAIN = re.compile(r"(?:[^\W_]|[./°]|[+-](?=[\d.]))[\w ./°%^²³+*()-]*")
"""Text that YAML reads as itself, in brackets too."""
_NOTHING = ("null", "~")


def with_part(text: str, keys: Keys, value: Part) -> str:
    """`text` with `value` at `keys`: a section that is not there yet, or a list's next entry."""
    tree = read_tree(plain_text(text), "job.yaml")
    try:
        new = _added(tree, keys, value)
        if bare(read_tree(new, tree.name).data) == bare(_put(tree.data, keys, value)):
            return as_before(text, new)
    except InputError:
        pass
    raise InputError([not_by_machine(tree, keys, flow_text(value))])


def without_part(text: str, keys: Keys) -> str:
    """`text` without the section, value or entry at `keys`; comments above it stay."""
    tree = read_tree(plain_text(text), "job.yaml")
    mark = tree.marks[keys]
    above = tree.marks[keys[:-1]]
    new = _out_of_brackets(tree, mark) if above.flow else _out_of_lines(tree, keys)
    try:
        if bare(read_tree(new, tree.name).data) == bare(removed(tree.data, keys)):
            return as_before(text, new)
    except InputError:
        pass
    raise InputError([not_by_machine(tree, keys, "nothing")])


def removed(data: Any, keys: Keys) -> Any:
    """A job's values without those at `keys`."""
    if not keys:
        return None
    here, inner = keys[0], keys[1:]
    if isinstance(data, list):
        kept = [removed(v, inner) if i == here and inner else v for i, v in enumerate(data)]
        return kept if inner else [v for i, v in enumerate(data) if i != here]
    if not isinstance(data, dict) or here not in data:
        return data
    if not inner:
        return {k: v for k, v in data.items() if k != here}
    return {k: removed(v, inner) if k == here else v for k, v in data.items()}


def bare(data: Any) -> Any:
    """A job's values without sections and lists that hold nothing: as if never given."""
    if isinstance(data, dict):
        inner = {k: bare(v) for k, v in data.items()}
        return {k: v for k, v in inner.items() if v not in (None, {}, [])}
    return [bare(v) for v in data] if isinstance(data, list) else data


def scalar_text(text: str) -> str:
    """How `text` is written so that it is read back as itself, anywhere in a job file."""
    if _PLAIN.fullmatch(text) and text == text.strip() and text.lower() not in _NOTHING:
        return text
    return json.dumps(text, ensure_ascii=False)


def flow_text(value: Part) -> str:
    """`value` on one line: ``{name: left wall, at: [1 mm, 2 mm, 3 mm]}``."""
    if isinstance(value, dict):
        return "{" + ", ".join(f"{k}: {flow_text(v)}" for k, v in value.items()) + "}"
    if isinstance(value, list):
        return "[" + ", ".join(map(flow_text, value)) + "]"
    return scalar_text(value)


def _put(data: Any, keys: Keys, value: Part) -> Any:
    if not keys:
        return value
    here, inner = keys[0], keys[1:]
    if isinstance(here, int):
        entries = list(data or [])
        old = entries[here] if here < len(entries) else None
        return [*entries[:here], _put(old, inner, value), *entries[here + 1 :]]
    section = dict(data or {})
    return {**section, here: _put(section.get(here), inner, value)}


def _added(tree: Tree, keys: Keys, value: Part) -> str:
    above = tree.known(keys)
    new, mark = keys[len(above) :], tree.marks[above]
    for key in reversed(new[1:]):
        value = [value] if isinstance(key, int) else {str(key): value}
    if not new and mark.shape != "nothing":
        raise InputError([not_by_machine(tree, keys, flow_text(value))])
    held = _held(new, value)
    if mark.shape == "nothing" or _is_empty(tree, above):
        text = tree.text[: mark.start].rstrip(" ") + tree.text[mark.end :]
        rows = _rows(held, mark.column + 2)
        return line_in(text, line_end(text, mark.key_end), "\n".join(rows))
    if mark.flow:
        return _into_brackets(tree.text, mark, new[0], value)
    inner = [m for k, m in tree.marks.items() if len(k) > len(above) and k[: len(above)] == above]
    last = max((content_end(tree.text, m) for m in inner), default=0)
    column = inner[0].column if inner else 0
    rows = _rows(held, column)
    if mark.shape == "list":
        rows = _entry_rows(tree, above, value)
    return line_in(tree.text, line_end(tree.text, last), "\n".join(rows))


def _is_empty(tree: Tree, keys: Keys) -> bool:
    """Whether brackets with nothing in them stand there, on a line of their key's own."""
    mark = tree.marks[keys]
    between = tree.text[mark.start + 1 : mark.end - 1]
    on_line = isinstance(keys[-1], str) and not tree.marks[keys[:-1]].flow if keys else False
    return mark.flow and on_line and not between.strip()


def _held(new: Keys, value: Part) -> Part:
    if not new:
        return value
    return [value] if isinstance(new[0], int) else {str(new[0]): value}


def _entry_rows(tree: Tree, above: Keys, value: Part) -> list[str]:
    """A new entry, in the column and the manner of the last one."""
    count = sum(1 for k in tree.marks if k[:-1] == above)
    last = tree.marks[(*above, count - 1)]
    dash = len(tree.text[: last.start].rstrip()) - 1
    column = dash - tree.text.rfind("\n", 0, dash) - 1
    if last.flow:
        return [f"{' ' * column}- {flow_text(value)}"]
    return _rows([value], column)


def _rows(value: Part, column: int) -> list[str]:
    """`value` on lines of its own, indented."""
    blank = " " * column
    if isinstance(value, dict):
        return [row for k, v in value.items() for row in _key_rows(f"{blank}{k}:", v, column)]
    rows: list[str] = []
    for entry in value:
        inner = _rows(entry, column + 2) if isinstance(entry, dict) else [flow_text(entry)]
        rows += [f"{blank}- {inner[0].lstrip()}", *inner[1:]]
    return rows


def _key_rows(head: str, value: Part, column: int) -> list[str]:
    sections = isinstance(value, list) and any(isinstance(v, dict) for v in value)
    if isinstance(value, dict) or sections:
        return [head, *_rows(value, column + 2)]
    return [f"{head} {flow_text(value)}"]


def _into_brackets(text: str, mark: Mark, key: str | int, value: Part) -> str:
    inner = flow_text(value) if isinstance(key, int) else f"{key}: {flow_text(value)}"
    head, tail = text[: mark.end - 1].rstrip(), text[mark.end - 1 :]
    if head.endswith(","):
        return f"{head} {inner}{tail}"
    return f"{head}{'' if head.endswith(('{', '[')) else ', '}{inner}{tail}"


def _out_of_brackets(tree: Tree, mark: Mark) -> str:
    start = mark.begin
    head, tail = tree.text[:start].rstrip(), tree.text[mark.end :]
    if head.endswith(","):
        return head[:-1] + tail
    rest = tail.lstrip()
    return tree.text[:start] + (rest[1:].lstrip() if rest.startswith(",") else tail)


def _out_of_lines(tree: Tree, keys: Keys) -> str:
    mark, text = tree.marks[keys], tree.text
    start = mark.begin
    if isinstance(keys[-1], int):
        start = len(text[:start].rstrip()) - 1
    line = text.rfind("\n", 0, start) + 1
    if text[line:start].strip() or (isinstance(keys[-1], int) and text[start] != "-"):
        raise InputError([not_by_machine(tree, keys, "nothing")])
    inner = [m for k, m in tree.marks.items() if k[: len(keys)] == keys]
    end = line_end(text, max(content_end(text, m) for m in inner))
    return text[:line] + text[end + 1 :]
