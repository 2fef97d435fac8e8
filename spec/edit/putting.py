"""A value put into a text at one place; all else of the text stays as it is."""

from __future__ import annotations

import re

from spec.edit.spans import Item, Spans, Value
from spec.edit.wording import Answer
from spec.job.schema import Shape


def replaced(spans: Spans, item: Item, written: str) -> str:
    """The text with the value of an entry replaced; comments inside it are kept behind it."""
    text, value = spans.text, item.value
    colon = spans.colon(item)
    if value.form == "nothing":
        return f"{text[:colon]} {written}{text[colon:]}"
    on_its_line = "\n" not in text[colon : value.start]
    if on_its_line and (value.form == "text" or value.in_braces):
        start, lead, remark = value.start, "", ""
    else:
        start, lead, remark = colon, " ", text[colon : spans.line_end(colon)].strip()
    line_end = spans.line_end(value.end)
    tail = text[value.end : line_end]
    if on_its_line or tail.strip():
        remark = ""
    inside = spans.comments(spans.line_end(colon) if remark else colon, value)
    indent = " " * (item.start - spans.line_start(item.start))
    below = "".join(f"\n{indent}{comment}" for comment in inside)
    return f"{text[:start]}{lead}{written}{remark and f'  {remark}'}{tail}{below}{text[line_end:]}"


def inserted(spans: Spans, upper: Value, shape: Shape, keys: list[str], answer: Answer) -> str:
    """The text with a new entry in a map, in the schema's order; `keys` lead down to the value.

    A line of the map that has the key as a comment and nothing behind it becomes the entry.
    """
    key, *rest = keys
    if upper.in_braces:
        return _in_braces(spans, upper, shape, key, nested(rest, answer, True))
    value = nested(rest, answer, False)
    blank = _blank_line(spans, upper, key)
    if blank is not None:
        start, end = blank
        remark = spans.text[end : spans.line_end(end)].strip()
        line = f"{key}: {value}{'  ' if remark else ''}{remark}"
        return spans.text[:start] + line + spans.text[spans.line_end(end) :]
    return _on_a_line(spans, upper, shape, key, value)


def nested(keys: list[str], answer: Answer, in_braces: bool) -> str:
    """An answer as the value below some keys."""
    if not keys:
        return answer.in_yaml(in_braces)
    head = "".join(f"{{{key}: " for key in keys)
    return f"{head}{answer.in_yaml(True)}{'}' * len(keys)}"


def _before(upper: Value, shape: Shape, key: str) -> Item | None:
    """The entry behind which a new one comes: the last that the schema has before it."""
    names = shape.for_map().names
    if key not in names:
        return upper.items[-1] if upper.items else None
    earlier = set(names[: names.index(key)])
    return next((item for item in reversed(upper.items) if item.key in earlier), None)


def _in_braces(spans: Spans, upper: Value, shape: Shape, key: str, value: str) -> str:
    before = _before(upper, shape, key)
    if before is not None:
        at = max(before.value.end, before.end)
        lead, trail = ", ", ""
    else:
        at = upper.items[0].start if upper.items else upper.start + 1
        lead, trail = "", ", " if upper.items else ""
    return f"{spans.text[:at]}{lead}{key}: {value}{trail}{spans.text[at:]}"


def _on_a_line(spans: Spans, upper: Value, shape: Shape, key: str, value: str) -> str:
    text, first = spans.text, upper.items[0]
    indent = " " * (first.start - spans.line_start(first.start))
    before = _before(upper, shape, key)
    if before is None:
        return f"{text[: first.start]}{key}: {value}\n{indent}{text[first.start :]}"
    end = spans.line_end(max(before.value.end, before.end))
    return f"{text[:end]}\n{indent}{key}: {value}{text[end:]}"


def _blank_line(spans: Spans, upper: Value, key: str) -> tuple[int, int] | None:
    """Where, among the lines of a map, its key stands as a comment with nothing behind it."""
    text, first = spans.text, upper.items[0]
    indent = first.start - spans.line_start(first.start)
    pattern = re.compile(rf"^ {{{indent}}}(# {re.escape(key)}:)[ \t]*(?:#.*)?$", re.MULTILINE)
    begin = spans.line_start(first.start)
    found = pattern.search(text, begin, _region_end(spans, upper))
    inside = any(i.value.form == "block_text" and _holds(i.value, found) for i in upper.items)
    return found.span(1) if found is not None and not inside else None


def _holds(value: Value, found: re.Match[str] | None) -> bool:
    return found is not None and value.start <= found.start() < value.end


def _region_end(spans: Spans, upper: Value) -> int:
    """Behind the comments and empty lines that follow a map."""
    end = spans.line_end(upper.end)
    while end < len(spans.text):
        after = spans.line_end(end + 1)
        line = spans.text[end + 1 : after].strip()
        if line and not line.startswith("#"):
            break
        end = after
    return end
