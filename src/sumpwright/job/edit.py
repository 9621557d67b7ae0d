# SPDX-License-Identifier: Apache-2.0
"""Change one value in the text of a job file and leave every other byte as it is.

The YAML parser says where the value stands; only that stretch is replaced, or a line added. The
new text is read back and must hold the old values with that one changed, or the edit is refused.
"""

import copy
import json
from collections.abc import Iterator
from typing import Any

from sumpwright.errors import InputError, Problem
from sumpwright.job.line_end import as_before, plain_text
from sumpwright.job.schema import need_at
from sumpwright.job.tree import Keys, Mark, Tree, dotted, read_tree


def with_value(text: str, keys: Keys, new_text: str) -> str:
    """`text` with `new_text` at `keys`; ``null`` takes a value out, comments stay.

    `new_text` is taken as YAML where it is whole as such (``4.9 qt``, ``[0 mm, 1 mm, 2 mm]``),
    and put in quotes where it is not.
    """
    tree = read_tree(plain_text(text), "job.yaml")
    return as_before(text, _edited(tree, keys, new_text.strip()))


def keys_of(tree: Tree, key: str) -> Keys:
    """The place that ``obstacles.rack.clearance`` or ``obstacles.0.clearance`` names."""
    value: Any = tree.data
    keys: Keys = ()
    for part in key.split("."):
        step: str | int = part
        need = need_at(keys)
        if value is None and need is not None and need.kind == "list":
            value = []
        if isinstance(value, list):
            step = _entry(value, part, tree, keys)
            value = value[step]
        else:
            value = value.get(part) if isinstance(value, dict) else None
        keys = (*keys, step)
    return keys


def _edited(tree: Tree, keys: Keys, new_text: str) -> str:
    for written, value in writings(new_text):
        text = _spliced(tree, keys, written)
        try:
            if read_tree(text, tree.name).data == _expected(tree, keys, value):
                return text
        except InputError:
            continue
    raise InputError([not_by_machine(tree, keys, new_text)])


def writings(new_text: str) -> Iterator[tuple[str, Any]]:
    """Ways to write `new_text` in a file, and the value each must be read as."""
    if "\n" not in new_text and new_text:
        try:
            tree = read_tree(f"k: {new_text}", "")
            value = tree.data.get("k")
            mark = tree.marks[("k",)]
            whole = mark.end == len(tree.text)
            if value is None:
                whole = new_text.lower() in ("null", "~")
            if whole and (mark.flow or value in (None, new_text) or new_text[0] in "'\""):
                yield new_text, value
        except InputError:
            pass
    yield json.dumps(new_text, ensure_ascii=False), new_text


def _expected(tree: Tree, keys: Keys, value: Any) -> Any:
    """The file's data with `value` at `keys`."""
    data = copy.deepcopy(tree.data)
    inner = data
    for key in keys[:-1]:
        if isinstance(inner, dict):
            held = inner.setdefault(key, {})
            if isinstance(held, str):
                inner[key] = {"file": held}
        inner = inner[key]
    if value is None and isinstance(inner, dict):
        inner.pop(keys[-1], None)
    else:
        inner[keys[-1]] = value
    return data


def _spliced(tree: Tree, keys: Keys, written: str) -> str:
    mark = tree.marks.get(keys)
    if mark is None:
        return _added(tree, keys, written)
    if mark.shape == "nothing" and mark.start == mark.end:
        return _behind_colon(tree.text, mark, written)
    if mark.shape in ("section", "list") and not mark.flow:
        raise InputError([_names_a_section(tree, keys)])
    end = mark.end
    if tree.text[mark.start : end].endswith("\n"):  # a block text takes its line end with it
        end -= 1
    return tree.text[: mark.start] + written + tree.text[end:]


def _behind_colon(text: str, mark: Mark, written: str) -> str:
    colon = text.index(":", mark.key_end) + 1
    return f"{text[:colon]} {written}{text[colon:]}"


def _added(tree: Tree, keys: Keys, written: str) -> str:
    above = tree.known(keys)
    new = keys[len(above) :]
    mark = tree.marks[above]
    if not all(isinstance(k, str) for k in new):
        raise InputError([_no_such_entry(tree, keys)])
    if mark.flow:
        return _into_braces(tree.text, mark, new, written)
    if mark.shape == "text":
        return _beside_file(tree, above, mark, new, written)
    if mark.shape == "nothing":
        end = line_end(tree.text, mark.key_end)
        return line_in(tree.text, end, _lines(new, written, mark.column + 2))
    inner = [m for k, m in tree.marks.items() if len(k) > len(above) and k[: len(above)] == above]
    column = inner[0].column if inner else 0
    last = max((content_end(tree.text, m) for m in inner), default=0)
    return line_in(tree.text, line_end(tree.text, last), _lines(new, written, column))


def _lines(new: Keys, written: str, column: int) -> str:
    rows = [f"{' ' * (column + 2 * i)}{key}:" for i, key in enumerate(new)]
    return "\n".join(rows) + f" {written}"


def line_in(text: str, end: int, lines: str) -> str:
    """`text` with `lines` behind the line that ends at `end`."""
    return f"{text[:end].rstrip(' ')}\n{lines}{text[end:] or chr(10)}"


def _into_braces(text: str, mark: Mark, new: Keys, written: str) -> str:
    opening, closing = ": {".join(map(str, new)), "}" * (len(new) - 1)
    head = text[: mark.end - 1].rstrip()
    comma = "" if head.endswith("{") else ", "
    return f"{head}{comma}{opening}: {written}{closing}{text[mark.end - 1 :]}"


def _beside_file(tree: Tree, above: Keys, mark: Mark, new: Keys, written: str) -> str:
    need = need_at(above)
    if need is None or not need.short:
        raise InputError([_names_a_section(tree, above)])
    file, inner = tree.text[mark.start : mark.end], f"{'.'.join(map(str, new))}: {written}"
    return f"{tree.text[: mark.start]}{{file: {file}, {inner}}}{tree.text[mark.end :]}"


def content_end(text: str, mark: Mark) -> int:
    """Where what `mark` itself holds ends; of a section or list on lines of its own, its key."""
    if mark.shape == "nothing" or (mark.shape in ("section", "list") and not mark.flow):
        return mark.key_end
    return len(text[: mark.end].rstrip("\n"))


def line_end(text: str, position: int) -> int:
    """Where the line of `position` ends, before its newline."""
    end = text.find("\n", position)
    return len(text) if end < 0 else end


def _entry(entries: list[Any], part: str, tree: Tree, keys: Keys) -> int:
    if part.isdigit() and int(part) < len(entries):
        return int(part)
    names = [e.get("name") if isinstance(e, dict) else None for e in entries]
    if part in names:
        return names.index(part)
    raise InputError([_no_such_entry(tree, (*keys, part))])


def _no_such_entry(tree: Tree, keys: Keys) -> Problem:
    return Problem(
        "SAVE-309",
        tree.where(keys),
        f"no entry {keys[-1]}",
        "the name or the number (from 0) of an entry that is there",
        "write a new entry in job.yaml with an editor",
    )


def _names_a_section(tree: Tree, keys: Keys) -> Problem:
    need = need_at(keys)
    known = ", ".join(need.section.model_fields) if need and need.section else ""
    return Problem(
        "SAVE-309",
        tree.where(keys),
        tree.typed(keys),
        "a key that holds one value",
        f"name a key inside it: {known}" if known else "edit job.yaml with an editor",
    )


def not_by_machine(tree: Tree, keys: Keys, new_text: str) -> Problem:
    """No way was found to write it so that it is read back."""
    return Problem(
        "SAVE-309",
        tree.where(keys),
        new_text or "nothing",
        f"a value that can be put at {dotted(keys)} without touching anything else",
        "edit job.yaml with an editor",
    )
