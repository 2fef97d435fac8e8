"""Reads past the slips that libyaml stops at.

A span that cannot be read is covered with a filler of the same length, so that every line
and column stays true, and the text is read again. The node that stands on a filler is
Unreadable and carries what was written; the slip is a finding. So one run names them all.
"""

from __future__ import annotations

import re

import yaml

from spec.finding import Finding
from spec.read import indent
from spec.read.build import Builder, Healed, Runaway
from spec.read.line import (
    Span,
    after_dashes,
    entry_span,
    hash_in,
    indent_of,
    key_end,
    missing_closers,
    value_span,
)
from spec.read.page import Page
from spec.read.report import Findings, finding, too_deep
from spec.read.signs import hash_slip
from spec.read.slips import Slip, plainly, slip_of, wrong_closer
from spec.read.tree import Node, Unusable

_MOST_SLIPS = 60
_MOST_READ = 12_000_000  # characters over all passes: a large broken file must not take minutes


def build_healed(
    name: str, text: str, written: str, bad: list[int]
) -> tuple[Node | None, list[Finding]]:
    """The tree of a text, and the findings of its traps and slips.

    `text` is `written` with stand-ins at the indices `bad`. Raises Unusable where a slip
    leaves no sense in what follows.
    """
    return _Healer(Page(name, text, written), bad).read()


class _Healer:
    """All spans are of indices in the page's text."""

    def __init__(self, page: Page, bad: list[int]) -> None:
        self.page = page
        self.bad = bad
        self.healed = Healed()
        self.covered: list[Span] = []
        self.blank: set[int] = set()
        self.slips = Findings()

    def read(self) -> tuple[Node | None, list[Finding]]:
        passes = min(_MOST_SLIPS, 2 + _MOST_READ // (len(self.page.text) + 1))
        for _ in range(passes):
            builder = Builder(self.page, self.healed, self.bad)
            try:
                root = builder.build()
            except Runaway as quote:
                self._heal_quote(quote.start)
            except yaml.MarkedYAMLError as problem:
                self._heal(problem, builder)
            except yaml.YAMLError as problem:
                raise self._refusal(0, plainly(str(problem))) from None
            except Unusable as refusal:
                others = [*self.slips, *builder.findings]
                raise Unusable(refusal.finding, others) from None
            else:
                return root, self.slips + builder.findings
        last = max(slip.place.line for slip in self.slips)
        raise self._refusal(last - 1, f"{len(self.slips)} slips up to this line stop the reading")

    def _heal(self, problem: yaml.MarkedYAMLError, builder: Builder) -> None:
        """Finds the line that is to blame and covers what cannot be read of it."""
        page, said, context = self.page, f"{problem.problem}", f"{problem.context}"
        mark, opened = problem.problem_mark or problem.context_mark, problem.context_mark
        if mark is None:
            raise self._refusal(0, plainly(said))
        if "nesting" in said:
            raise too_deep(page.place(mark.index))
        index, begun = mark.index, opened.index if opened is not None else mark.index
        if "quoted scalar" in context:
            index = begun
            number, column = page.at(index)
            if "escape" not in said and entry_span(page.text_line(number), column)[0] == column:
                self._heal_quote(index)
                return
        elif "simple key" in context:
            index = begun
        number, column = page.at(index)
        line = page.text_line(number)
        flow = next((frame.start for frame in builder.open if frame.in_braces), -1)
        if flow < 0 and "flow" in context:
            flow = begun
        if indent.has_tab(line):
            self._empty(indent.tabs(page, number))
        elif line.startswith("%"):
            self._empty(indent.percent(page, number))
        elif flow >= 0:
            self._heal_flow(flow, index, said)
        elif column <= after_dashes(line) or column < key_end(line):
            self._heal_structure(number, said)
        else:
            self._cover_first([self._value(number)], said)

    def _value(self, number: int) -> Span:
        first, last = value_span(self.page.text_line(number))
        start = self.page.starts[number]
        return start + first, start + last

    def _heal_flow(self, flow: int, index: int, said: str) -> None:
        """A slip at an index, in braces or brackets that open at the index `flow`."""
        page = self.page
        first, start = page.at(flow)
        number = page.at(index)[0]
        end = self._flow_end(first)
        for each in range(first, min(number + 1, end)):
            sign = hash_in(page.text_line(each), start if each == first else 0)
            if sign >= 0:
                self._heal_hash(page.starts[each], page.starts[each] + sign, flow)
                return
        begin = min(flow, self._value(first)[0])
        close = page.starts[end] - 1 if end < page.count else len(page.text)
        close = begin + len(page.text[begin:close].rstrip())
        value = page.written[begin:close]
        wrong = wrong_closer(value, index - begin, said)
        if number >= end or index >= close:
            closers = missing_closers(page.text[begin:close])
            kind = "brace" if closers[:1] == "}" else "bracket"
            what = f"a {kind} that opens here is not closed, or a comma is missing"
            self._cover(begin, close, Slip("bracket-not-closed", what, value + closers))
        elif wrong:
            self._cover(begin, close, wrong)
        else:
            base = page.starts[first]
            entry = entry_span(page.text[base:close], index - base)
            self._cover_first([(base + entry[0], base + entry[1]), (begin, close)], said)

    def _flow_end(self, first: int) -> int:
        """The number of the line behind the braces or brackets that open on that line."""
        page = self.page
        depth = indent_of(page.line(first))
        end = first + 1
        while end < page.count:
            line = page.line(end)
            counts = line.strip(" ]},") and not line.lstrip().startswith("#")
            if counts and indent_of(line) <= depth:
                break
            end += 1
        return end

    def _heal_hash(self, base: int, sign: int, flow: int) -> None:
        """A # within braces: it hid the rest of its line, the closing brace as a rule."""
        page = self.page
        before = page.text[base:sign].rstrip()
        begin = base + entry_span(before, max(0, len(before) - 1))[0]
        begin = max(begin, flow + 1)
        behind = re.compile(r"[,\]}\n]|$").search(page.text, sign)
        end = behind.start() if behind else len(page.text)
        lost = page.written[sign:end].rstrip()
        what, instead = hash_slip(page.written[begin:sign].strip(), lost)
        self._cover(begin, sign + len(lost), Slip("hash-cut-a-value", what, instead))

    def _heal_quote(self, start: int) -> None:
        """A text whose closing quote is missing."""
        page = self.page
        number, column = page.at(start)
        line = page.line(number).rstrip()
        begin = min(value_span(page.text_line(number))[0], column)
        raw = line[column:]
        if begin < column and (words := re.match(r"[^,\]}]+", raw)):
            raw = words.group()
        instead = line[begin:column] + raw + raw[0] + line[column + len(raw) :]
        base = page.starts[number]
        slip = Slip("quote-not-closed", "this quote is not closed on its line", instead)
        self._cover(base + begin, base + len(line), slip)

    def _heal_structure(self, number: int, said: str) -> None:
        """A line that stands where none may stand, or that has no key."""
        page = self.page
        guilty = indent.without_colon(page, number)
        if guilty is None:
            self._empty(indent.misplaced(page, number, said))
            return
        start = page.starts[guilty] + after_dashes(page.text_line(guilty))
        end = page.starts[guilty] + len(page.line(guilty).rstrip())
        if self._is_covered(start, end):
            self._blank(guilty, guilty + 1, plainly(said))
        else:
            self._cover(start, end, indent.no_colon_slip(page.written[start:end]), as_key=True)

    def _cover_first(self, spans: list[Span], said: str) -> None:
        """Covers the first of the spans that has something and is not yet covered."""
        for start, end in spans:
            if start < end and not self._is_covered(start, end):
                self._cover(start, end, slip_of(self.page.written[start:end], said))
                return
        number = self.page.at(spans[0][0])[0]
        self._blank(number, number + 1, plainly(said))

    def _is_covered(self, start: int, end: int) -> bool:
        return any(first <= start and end <= last for first, last in self.covered)

    def _cover(self, start: int, end: int, slip: Slip, *, as_key: bool = False) -> None:
        page = self.page
        if self._is_covered(start, end):
            number = page.at(start)[0]
            self._blank(number, number + 1, slip.what)
            return
        written, fixed = page.shown(start, end, slip.instead)
        told = f"{slip.what}; written: {written}"
        self.slips.append(finding(slip.rule, page.place(start), told, f"write: {fixed}"))
        self.healed.masks[start] = " ".join(page.written[start:end].split())
        cover = "x" * (end - start)
        if as_key:
            cover = cover[:-1] + ":" if len(cover) > 1 else " "
        self._fill(start, end, cover)

    def _empty(self, misplaced: indent.Misplaced) -> None:
        """Takes lines out that stand where none may stand."""
        self.slips.append(misplaced.finding)
        self._blank(misplaced.start, misplaced.end, misplaced.finding.message)

    def _blank(self, first: int, end: int, why: str) -> None:
        """Takes lines out whose slip is told; where that was done already, reading ends."""
        if first in self.blank:
            raise self._refusal(first, why)
        self.blank.update(range(first, end))
        page = self.page
        before = page.before(first)
        if before is not None and page.line(first).strip():
            self.healed.emptied.setdefault(before, page.line(first).strip())
        start, stop = page.starts[first], page.starts[end - 1] + len(page.line(end - 1))
        self._fill(start, stop, " " * (stop - start))

    def _fill(self, start: int, end: int, cover: str) -> None:
        """Puts a cover of the same length over a span; its lines behind the first become blank."""
        text = self.page.text
        old = text[start:end]
        if "\n" in old:
            first = old.index("\n")
            cover = cover[:first] + re.sub(r"[^\n]", " ", old[first:])
        self.covered.append((start, end))
        self.page = self.page.with_text(text[:start] + cover + text[end:])

    def _refusal(self, number: int, said: str) -> Unusable:
        place = self.page.place(self.page.starts[number])
        line = self.page.line(number).strip()[:120]
        what = f"from here on the file cannot be read: {said}; written: {line}"
        cure = "put this line right, or take it out, then run again"
        return Unusable(finding("cannot-be-read", place, what, cure), self.slips)
