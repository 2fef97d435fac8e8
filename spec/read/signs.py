"""Signs that mean something to YAML and nothing, or something else, to the file's writer.

A # behind a value, a tab in a text, & and * and ! before a value, a line of three dashes.
"""

from __future__ import annotations

import re

from spec.finding import Finding, Place
from spec.read.page import Page
from spec.read.report import finding, in_quotes
from spec.read.tree import Node, Scalar, Unreadable

_NUMBER_SIGN = re.compile(r"#(?=\d)")


def cut_by_hash(page: Page, node: Node, start: int, end: int, lost: str) -> tuple[Node, Finding]:
    """A value behind which a # stands: what followed was not read."""
    sign = page.text.index("#", end)
    close = sign + len(lost)
    if not isinstance(node, Scalar):
        written, fixed = page.shown(sign, close, f"# {lost[1:]}")
        what = "everything after # was not read"
        cure = f"a comment has a blank behind the #: {fixed}"
        return node, finding(
            "hash-cut-a-value", page.place(sign), f"{what}; written: {written}", cure
        )
    what, instead = hash_slip(node.text, lost)
    begin = sign if node.absent else start
    written, fixed = page.shown(begin, close, instead)
    return Unreadable(node.place, " ".join(page.text[begin:close].split())), finding(
        "hash-cut-a-value",
        page.place(sign),
        f"{what}; written: {written}",
        f"write: {fixed} (a comment has a blank behind the #)",
    )


def hash_slip(value: str, lost: str) -> tuple[str, str]:
    """What a # did to a value, and the value as it should be; `lost` begins with the #."""
    words = _NUMBER_SIGN.sub("No. ", f"{value} {lost}".strip())
    what = "everything after # was not read; "
    if lost[1].isdigit():
        what += f"write No. {lost[1:].split(maxsplit=1)[0].rstrip(',')}"
    else:
        what += "put the text in quotes"
    return what, in_quotes(words) if "#" in words else words


def second_document(place: Place) -> Finding:
    """A line of three dashes that begins another document."""
    return finding(
        "several-documents",
        place,
        "a second document begins here; nothing from here on was read",
        "take the line of three dashes away, or keep the rest in a file of its own",
    )


def tab_inside(page: Page, place: Place, start: int, end: int) -> Finding:
    """A tab in a text, typed or as an escape between double quotes."""
    raw = page.text[start:end].rstrip()
    instead = raw.replace("\t", " ").replace("\\t", " ")
    written, fixed = page.shown(start, start + len(raw), instead)
    told = f"a tab stands in this text; written: {written}"
    return finding("tab", place, told, f"write a blank in its place: {fixed}")


def alias(page: Page, place: Place, start: int, end: int) -> Finding:
    """A value that begins with an asterisk."""
    written, fixed = page.shown(start, end, in_quotes(page.text[start:end]))
    return finding(
        "alias",
        place,
        f"a value that begins with * points at another place, which is not read here;"
        f" written: {written}",
        f"`like:` with a mark takes over another thing; a text stands in quotes: {fixed}",
    )


def anchor_or_tag(page: Page, place: Place, start: int, end: int, sign: str) -> Finding:
    """A value that begins with & or !."""
    written, fixed = page.shown(start, end, in_quotes(page.text[start:end]))
    rule, does = {
        "&": ("anchor", "names this place for other ones"),
        "!": ("tag", "gives the value a type"),
    }[sign]
    return finding(
        rule,
        place,
        f"a value that begins with {sign} {does}, which is not read here; written: {written}",
        f"take `{page.text[start:end].split()[0]}` away; a text stands in quotes: {fixed}",
    )
