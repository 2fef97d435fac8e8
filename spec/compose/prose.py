"""Standing prose: Markdown with named values becomes blocks, the same in every format."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator, Mapping
from functools import cache
from typing import TYPE_CHECKING, Literal

from spec import files
from spec.compose.blocks import Block, Bullets, Cites, Heading, Paragraph, Run, Sentence

if TYPE_CHECKING:
    from markdown_it.token import Token

_VALUE = re.compile(r"\{([a-z][a-z0-9_.]*)\}")
_EITHER = re.compile(r"\{([^{}|]*) \| ([^{}|]*)\}")
"""Words for jobs in customary units, where the codes of the United States hold; for all others."""
Tone = Literal["plain", "caution", "held", "small"]
Values = Callable[[str], tuple[str, Cites] | None]


@cache
def _tokens(name: str) -> tuple[Token, ...]:
    from markdown_it import MarkdownIt  # noqa: PLC0415 - checking needs no prose

    path = files.templates() / "prose" / f"{name}.md"
    if not path.is_file():
        return ()
    return tuple(MarkdownIt("commonmark").parse(path.read_text(encoding="utf-8")))


def prose(
    name: str,
    values: Values | Mapping[str, str] | None = None,
    *,
    tone: Tone = "plain",
    boxes: bool = False,
    metric: bool = False,
) -> Iterator[Block]:
    """The blocks of templates/prose/NAME.md; nothing where there is no such file.

    `{job.title}` is replaced by a named value; a sentence whose value is not known is left out
    whole. Of `{10 ft | 3 m}` the first stands in a job in customary units, where the codes of the
    United States hold, and the second where it is `metric`. With `boxes` lists are set with boxes
    to tick.
    """
    look = _look(values)
    items: list[Sentence] = []
    marks: Literal["dash", "number", "box"] = "dash"
    level: Literal[1, 2, 3] | None = None
    inside = 0
    for token in _tokens(name):
        if token.type == "heading_open":
            level = {"h1": 1, "h2": 2}.get(token.tag, 3)  # type: ignore[assignment]
        elif token.type in ("bullet_list_open", "ordered_list_open"):
            marks = "number" if token.type.startswith("ordered") else "dash"
            inside += 1
        elif token.type in ("bullet_list_close", "ordered_list_close"):
            inside -= 1
            if items:
                yield Bullets(tuple(items), "box" if boxes else marks)
                items = []
        elif token.type == "inline":
            sentence = _sentence(token, look, metric)
            if sentence is None:
                continue
            if level is not None:
                yield Heading(level, sentence.text)
            elif inside:
                items.append(sentence)
            else:
                yield Paragraph(sentence, tone)
        if token.type == "heading_close":
            level = None


def _look(values: Values | Mapping[str, str] | None) -> Values:
    if values is None:
        return lambda name: None
    if isinstance(values, Mapping):
        known = values
        return lambda name: (known[name], frozenset()) if name in known else None
    return values


def _sentence(token: Token, look: Values, metric: bool) -> Sentence | None:
    runs: list[Run] = []
    cites: set[str] = set()
    strong = emphasis = False
    for child in token.children or ():
        if child.type in ("strong_open", "strong_close"):
            strong = child.type.endswith("open")
        elif child.type in ("em_open", "em_close"):
            emphasis = child.type.endswith("open")
        elif child.type in ("softbreak", "hardbreak"):
            runs.append(Run(" ", strong, emphasis))
        elif child.content:
            text = _EITHER.sub(r"\2" if metric else r"\1", child.content)
            for name in _VALUE.findall(text):
                found = look(name)
                if found is None:
                    return None
                text = text.replace(f"{{{name}}}", found[0])
                cites |= found[1]
            runs.append(Run(text, strong, emphasis))
    return Sentence(tuple(runs), frozenset(cites)) if runs else None
