"""What is wrong with a value that libyaml refuses, in plain words, and how it should be."""

from __future__ import annotations

import re
from typing import NamedTuple

from spec.read.line import missing_closers
from spec.read.report import in_quotes

_LIST = re.compile(r"\[([^\[\]{}]*)\]\s*([^\s\[\]{},].*)")
_BEHIND_BRACKETS = re.compile(r"([\[{].*[\]}])\s*([^\s\]},].*)")
_NUMBER = re.compile(r"[-+−]?\d[\d.,/ -]*")
_NEXT_KEY = re.compile(r"^[^\[{\"'][^,]*\n\s*[\w-]+:\s")
_AMOUNT_THEN_KEY = re.compile(r"([-+.]?\d[^:]*?)\s+([a-z_]+):\s+(.*)")
_TOO_MANY = re.compile(r"(.*?)([\]}])\s*([\]},]+)")
_PLAIN = re.compile(r"[\w.+(<≤≥°][^\[\]{},#:&*!|>%@`]*|-[\d.][^\[\]{},#:&*!|>%@`]*")
_LONGEST = 4000  # no slip of typing is longer; the patterns above take their time with it


class Slip(NamedTuple):
    """A rule name, what is wrong, and the value as it should be."""

    rule: str
    what: str
    instead: str


def slip_of(value: str, problem: str) -> Slip:
    """Names the slip in a value that could not be read; `problem` is what the parser said."""
    if len(value) > _LONGEST:
        what = f"{len(value)} signs up to here cannot be read ({plainly(problem)})"
        return Slip("cannot-be-read", what, in_quotes(f"{value[:80]}…"))
    lines = [line.strip() for line in value.split("\n")]
    if _NEXT_KEY.search(value):
        what = "a comma is missing between two entries in braces"
        return Slip("comma-missing", what, ", ".join(line.rstrip(",") for line in lines))
    value = " ".join(lines)
    first = value[:1]
    if first in "[{":
        return _of_brackets(value, problem)
    if first in "\"'":
        return _of_quotes(value, problem)
    if first == ":":
        what = "a colon stands here with no key before it"
        return Slip("value-without-key", what, f"a_word{value}")
    if match := _AMOUNT_THEN_KEY.fullmatch(value):
        what = f"a comma, or a new line, is missing before `{match[2]}:`"
        return Slip("comma-missing", what, f"{match[1]}, {match[2]}: {match[3]}")
    if re.search(r":(\s|$)", value):
        what = "a second colon: quotes go round a text, a comma before a second key in braces"
        return Slip("colon-in-text", what, in_quotes(value))
    if first in "@`%>|&*!?-]}," and first:
        what = f"a value cannot begin with {first}"
        return Slip("sign-at-the-start", what, in_quotes(value))
    return Slip("cannot-be-read", f"this cannot be read ({plainly(problem)})", in_quotes(value))


def wrong_closer(value: str, index: int, problem: str) -> Slip | None:
    """The slip where a bracket closes braces, or the other way round, at that index."""
    due = re.search(r"',' or '([]}])'", problem)
    here = value[index : index + 1]
    if not due or here not in ("]", "}") or here == due[1]:
        return None
    if missing_closers(value[:index]) == due[1]:
        what = f"a {here} stands here where a {due[1]} is due"
        return Slip("bracket-not-closed", what, value[:index] + due[1] + value[index + 1 :])
    what = f"a {due[1]} is missing before this {here}"
    return Slip("bracket-not-closed", what, value[:index] + due[1] + value[index:])


def _of_brackets(value: str, problem: str) -> Slip:
    if match := _LIST.fullmatch(value):
        items = [item.strip() for item in match[1].split(",") if item.strip()]
        if items and all(_NUMBER.fullmatch(item) for item in items):
            series = " ".join([*items, match[2]])
            return Slip("list-with-unit", f"a list cannot carry a unit, write `{series}`", series)
    if "node content" in problem and re.search(r",\s*,", value):
        what = "nothing stands between two commas"
        return Slip("nothing-between-commas", what, re.sub(r",\s*(?=,)", "", value))
    if closers := missing_closers(value):
        kind = "brace" if closers[0] == "}" else "bracket"
        return Slip("bracket-not-closed", f"a {kind} is not closed on its line", value + closers)
    if match := _TOO_MANY.fullmatch(value):
        what = f"there is a {match[3][-1]} too many"
        return Slip("bracket-too-many", what, match[1] + match[2])
    if match := _BEHIND_BRACKETS.fullmatch(value):
        what = f"nothing may stand behind the closing {match[1][-1]}, and here stands `{match[2]}`"
        return Slip("text-behind-brackets", what, in_quotes(value))
    return Slip("cannot-be-read", f"this cannot be read ({plainly(problem)})", in_quotes(value))


def _of_quotes(value: str, problem: str) -> Slip:
    quote = value[0]
    inner = value[1:-1] if len(value) > 1 and value[-1] == quote else ""
    if not inner and quote not in value[1:]:
        return Slip("quote-not-closed", "this quote is not closed on its line", value + quote)
    if "escape" in problem:
        what = "a backslash between double quotes begins a special sign"
        return Slip("backslash", what, "'" + inner.replace("'", "''") + "'")
    if quote in inner:
        plain = _PLAIN.fullmatch(inner) and inner.count(quote) == 1
        instead = inner if plain else in_quotes(inner)
        sign = "apostrophe" if quote == "'" else "inch sign" if '"' in inner[-1:] else "quote"
        what = f"the {sign} inside the quotes closes them"
        return Slip("quote-in-quotes", what, instead)
    close = value.find(quote, 1)
    behind = value[close + 1 :].strip()
    what = f"nothing may stand behind the closing quote, and here stands `{behind}`"
    words = value[1:close] + value[close + 1 :]
    return Slip("text-behind-quotes", what, in_quotes(words))


def plainly(problem: str) -> str:
    """What the parser said, in the words of the file's writer."""
    for said, plain in _WORDS.items():
        if said in problem:
            return plain
    return f"the parser said: {problem}"


_WORDS = {
    "did not find expected ',' or": "a comma or a closing bracket is missing",
    "did not find expected key": "this belongs to no key",
    "could not find expected ':'": "there is no colon behind the key",
    "mapping values are not allowed": "a key may not stand here",
    "block sequence entries are not allowed": "a list may not begin here",
    "undefined tag handle": "a value cannot begin with !",
    "end of stream": "the file ends before it is closed",
    "document start": "a line of dots ends a document",
    "unknown escape": "a backslash begins a special sign",
}
"""Parts of libyaml 0.2 messages, and what they mean to the writer."""
