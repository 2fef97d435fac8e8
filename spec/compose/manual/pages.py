"""The manual as documents: a page for the rules, decisions and figures of each subject."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from functools import cached_property

from spec import __version__
from spec.compose.blocks import (
    Block,
    Bullets,
    Code,
    Document,
    Facts,
    Formula,
    Head,
    Heading,
    Paragraph,
    Row,
    Run,
    Sentence,
    Table,
    say,
)
from spec.compose.fingerprint import fingerprint
from spec.compose.manual.decisions import SHARED, decisions
from spec.compose.manual.entry import Entry, Sort, quoted
from spec.compose.manual.figures import figures
from spec.compose.manual.findings import findings
from spec.compose.manual.links import Names, links
from spec.compose.parts.schedules import SUBJECT_TITLES
from spec.compose.prose import prose
from spec.job.schema import SUBJECTS, documents
from spec.quantity.dimensions import DIMENSIONS

_FOLDERS: dict[Sort, str] = {"rule": "rules", "decision": "decisions", "figure": "figures"}
_TITLES: dict[Sort, str] = {"rule": "Rules", "decision": "Decisions", "figure": "Figures"}
_NOTATION = "notation"
_UP = "../"
_LIST_FROM = 4
"""A group with more decisions than this begins with a list of them."""


@dataclass(frozen=True)
class Manual:
    """Every entry, and the page and anchor where each stands."""

    entries: tuple[Entry, ...]

    @cached_property
    def pages(self) -> dict[tuple[Sort, str], list[Entry]]:
        """The entries by page: sort and subject, in the order of the subjects."""
        found: dict[tuple[Sort, str], list[Entry]] = {}
        for sort in _FOLDERS:
            for subject in (*SUBJECTS, SHARED):
                here = [e for e in self.entries if (e.sort, e.subject) == (sort, subject)]
                if here:
                    found[sort, subject] = _grouped(here)
        return found

    @cached_property
    def anchors(self) -> dict[int, str]:
        """The anchor of each entry, which no other of its page has."""
        found: dict[int, str] = {}
        for here in self.pages.values():
            met: defaultdict[str, int] = defaultdict(int)
            for entry in here:
                met[entry.name] += 1
                number = met[entry.name]
                found[id(entry)] = entry.name if number == 1 else f"{entry.name}-{number}"
        return found

    @cached_property
    def places(self) -> dict[tuple[Sort, str], str]:
        """Where each name is explained: page and anchor, from the folder of the manual."""
        found: dict[tuple[Sort, str], str] = {}
        for (sort, subject), here in self.pages.items():
            for entry in here:
                place = f"{_path(sort, subject)}#{self.anchors[id(entry)]}"
                for name in (entry.name, *entry.also):
                    found.setdefault((sort, name), place)
        return found

    def linked(self, sort: Sort, names: Names, label: str) -> Iterator[Block]:
        """A line of links to entries of one sort; nothing where there are none."""
        known = [name for name in names if (sort, name) in self.places]
        if known:
            runs = _joined([Run(name, link=_UP + self.places[sort, name]) for name in known])
            yield Paragraph(Sentence((Run(f"{label}: "), *runs)), "small")


def manual() -> tuple[Document, tuple[Document, ...]]:
    """The first page, and every other."""
    whole = Manual((*findings().values(), *decisions(), *figures().values()))
    pages = [_page(whole, sort, subject) for sort, subject in whole.pages]
    return _index(whole), (*pages, _notation())


def _grouped(entries: Sequence[Entry]) -> list[Entry]:
    """The entries with those of one group together, in the order in which groups come first."""
    groups: dict[str, list[Entry]] = {}
    for entry in entries:
        groups.setdefault(entry.group, []).append(entry)
    return [entry for group in groups.values() for entry in group]


def _path(sort: Sort, subject: str) -> str:
    return f"{_FOLDERS[sort]}/{subject}.html"


def _subject(subject: str) -> str:
    return SUBJECT_TITLES.get(subject, "Asked of many things")


def _document(name: str, folder: str, title: str, blocks: Iterable[Block]) -> Document:
    fixed = tuple(blocks)
    head = Head("Scantling: the manual", title, f"version {__version__}", "", fingerprint(fixed))
    return Document(name, folder, title, "en", head, fixed, formats=("html",))


def _page(whole: Manual, sort: Sort, subject: str) -> Document:
    title = f"{_TITLES[sort]}: {_subject(subject)}"
    return _document(
        subject, _FOLDERS[sort], title, _blocks(whole, sort, whole.pages[sort, subject])
    )


def _blocks(whole: Manual, sort: Sort, entries: Sequence[Entry]) -> Iterator[Block]:
    """Groups with their entries; of decisions, which are many, the contents list the groups."""
    yield _back()
    groups = dict.fromkeys(entry.group for entry in entries)
    inside = sort == "decision" and len(groups) > 1
    if inside:
        yield Heading(1, "By the thing that they are facts of")
    for group in groups:
        here = [entry for entry in entries if entry.group == group]
        yield Heading(2 if inside else 1, group, _group_anchor(group))
        if sort == "decision" and len(here) > _LIST_FROM:
            links_to = [Run(e.name, link=f"#{whole.anchors[id(e)]}") for e in here]
            yield Paragraph(Sentence(_joined(links_to)), "small")
        for entry in here:
            yield Heading(3 if inside else 2, entry.name, whole.anchors[id(entry)])
            yield from _entry(whole, entry)


def _joined(runs: Sequence[Run]) -> tuple[Run, ...]:
    """The runs with commas between them."""
    made = [part for run in runs for part in (run, Run(", "))]
    return tuple(made[:-1])


def _back() -> Paragraph:
    return Paragraph(Sentence((Run("All pages of the manual", link=f"{_UP}index.html"),)), "small")


def _group_anchor(group: str) -> str:
    return "group-" + "-".join(group.lower().split())


def _entry(whole: Manual, entry: Entry) -> Iterator[Block]:
    if not entry.words or not entry.words[0].startswith(entry.title):
        yield Paragraph(say(quoted(entry.title), strong=True))
    for words in entry.words:
        yield Paragraph(say(quoted(words)))
    for formula in entry.formulas:
        yield Formula(formula)
    yield Facts("", tuple(Row((label, quoted(text))) for label, text in entry.facts))
    for label, text in entry.examples:
        yield Paragraph(say(label, strong=True))
        yield Code(text.strip("\n"))
    yield from _related(whole, entry)


def _related(whole: Manual, entry: Entry) -> Iterator[Block]:
    known = links()
    if entry.sort == "rule":
        read = known.read_by_rule.get(entry.name, ())
        yield from whole.linked("decision", read, "Decisions that its example rests on")
        leans = known.figures_of_rule.get(entry.name, ())
        yield from whole.linked("figure", leans, "Figures that it leans on")
    elif entry.sort == "figure":
        rules = known.rules_of.get(entry.name, ())
        yield from whole.linked("rule", rules, "Rules that lean on it")
        inputs = known.inputs_of_figure.get(entry.name, ())
        yield from whole.linked("decision", inputs, "Made from, in the starter jobs")
    else:
        rules, figures_of = known.of_decision(entry)
        yield from whole.linked("rule", rules, "Rules that read it")
        yield from whole.linked("figure", figures_of, "Goes into, in the starter jobs")


def _index(whole: Manual) -> Document:
    blocks: list[Block] = [*prose("manual")]
    blocks.append(Heading(1, "How things are written"))
    there = f"decisions/{_NOTATION}.html"
    blocks.append(Bullets((Sentence((Run("States and notations of values", link=there),)),)))
    for sort, title in _TITLES.items():
        blocks.append(Heading(1, title))
        for (of_sort, subject), entries in whole.pages.items():
            if of_sort == sort:
                blocks += _listed(whole, sort, subject, entries)
    return _document("index", "", "Scantling: the manual", blocks)


def _listed(whole: Manual, sort: Sort, subject: str, entries: list[Entry]) -> Iterator[Block]:
    """The list of a page: every rule and figure by name, decisions by the thing they are of."""
    path = _path(sort, subject)
    yield Paragraph(Sentence((Run(_subject(subject), strong=True, link=path),)))
    if sort != "decision":
        yield Bullets(
            tuple(
                Sentence(
                    (Run(e.name, link=whole.places[sort, e.name]), Run(f" – {quoted(e.title)}"))
                )
                for e in entries
            )
        )
        return
    groups = dict.fromkeys(entry.group for entry in entries)
    yield Paragraph(
        Sentence(_joined([Run(g, link=f"{path}#{_group_anchor(g)}") for g in groups])), "small"
    )


def _notation() -> Document:
    """How states and quantities are written, from the states' schema and the dimensions."""
    states = documents()["states"]["$defs"]
    kinds = ("open", "to_be_decided", "assumed", "not_applicable", "dropped")
    rows = []
    for kind in kinds:
        keys = states[kind].get("properties", {})
        written = ", ".join(keys) or str(states[kind]["const"])
        rows.append(Row((str(states[kind]["title"]), str(states[kind]["description"]), written)))
    quantities = tuple(
        Row((about.noun, about.sample, "" if about.si == "1" else about.si))
        for about in DIMENSIONS.values()
    )
    blocks = (
        _back(),
        Heading(1, "States in place of a value"),
        Table("", ("State", "What it says", "Keys or word"), tuple(rows), (1, 2.4, 2.4)),
        Heading(1, "Quantities"),
        Table("", ("What it measures", "Written", "Inside"), quantities, (1.4, 2.4, 0.8)),
    )
    return _document(_NOTATION, "decisions", "How things are written", blocks)
