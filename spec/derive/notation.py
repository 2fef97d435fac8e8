"""The notation in which a figure's formula is written: one text, set properly in every format.

    sum over surfaces of (U A (t_beyond - t_room)); each with its own summer design air

Single letters, Greek ones too, are symbols, `_` hangs a subscript on them, `Δ` may stand before
and `'` behind. Words of two letters and more that follow one another are one name; "in quotes" a
name may hold single letters and commas. `+ - / ^ =` and `<= < > >=` are as on paper, `x` is a
visible times; symbols, numbers and parentheses side by side are multiplied. `sqrt(...)`,
`sum(...)`, `sum over WORDS of (...)`, the functions of FUNCTIONS, and a symbol with a parenthesis
hard behind it are functions. A minus between two terms has spaces on both sides. What follows
`;` is a remark in plain words, a `|` parts the cases of one figure. Whatever can be read in two
ways is refused: after `a / b` the term ends, and names stand apart from symbols by an operator.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from functools import cache
from typing import NamedTuple

FUNCTIONS = frozenset({"sin", "cos", "tan", "arcsin", "arccos", "ln", "log", "exp", "min", "max"})
_GREEK = "αβγδεηθκλμνπρστφχψωΓΔΘΛΠΣΦΨΩ"
_TOKEN = re.compile(
    rf"""(?P<quoted>"(?P<inner>[^"]*)")
    |(?P<number>\d+(?:\.\d+)?)
    |(?P<words>[A-Za-z]{{2,}}(?:['-][A-Za-z]+)*(?:'(?!\w))?)
    |(?P<symbol>Δ?[A-Za-z{_GREEK}]'?(?:_[A-Za-z0-9]+)?(?!\w))
    |(?P<relation><=|>=|[=<>])
    |(?P<minus>\ -\ |^-)
    |(?P<sign>[-+*/^(),])""",
    re.VERBOSE,
)
_IN_QUOTES = re.compile(r"[A-Za-z0-9 ,.'-]+")


class NotationError(ValueError):
    """A formula that does not follow the notation; the message says where."""


class Number(NamedTuple):
    """A number as written."""

    text: str


class Symbol(NamedTuple):
    """A letter, with `Δ` before and a prime behind where written, and its subscript."""

    letter: str
    below: str = ""


class Words(NamedTuple):
    """A quantity named in words."""

    text: str


class Group(NamedTuple):
    """Something in parentheses."""

    body: Term


class Power(NamedTuple):
    """A base and its exponent."""

    base: Term
    exponent: Term


class Product(NamedTuple):
    """Factors; `visible` says before which of them a times is shown (never before the first)."""

    factors: tuple[Term, ...]
    visible: tuple[bool, ...]


class Fraction(NamedTuple):
    """Above and below a stroke."""

    above: Term
    below: Term


class Chain(NamedTuple):
    """Terms with the sign before each: `+`, `-`, a relation, or nothing before the first."""

    terms: tuple[tuple[str, Term], ...]


class Call(NamedTuple):
    """A function of its arguments; `sum` may say over what, `sqrt` has one argument."""

    name: Symbol | Words
    arguments: tuple[Term, ...]
    over: str = ""


Term = Number | Symbol | Words | Group | Power | Product | Fraction | Chain | Call


class Formula(NamedTuple):
    """What is worked out, and a remark in plain words."""

    term: Term
    remark: str = ""


class _Token(NamedTuple):
    kind: str
    text: str
    at: int
    end: int


def _tokens(text: str) -> Iterator[_Token]:
    at = 0
    while at < len(text):
        found = _TOKEN.match(text, at)
        if found is None:
            if text[at] != " ":
                raise NotationError(f"“{text[at]}” at {at + 1} of “{text}” means nothing here")
            at += 1
            continue
        kind, shown = str(found.lastgroup), found[0].strip()
        if kind in ("quoted", "inner"):
            kind, shown = "quoted", found["inner"]
            if not _IN_QUOTES.fullmatch(shown):
                raise NotationError(f"“{shown}”: in quotes stand words, digits and commas only")
        elif kind == "symbol" and shown == "x":
            kind = "sign"
        yield _Token(kind, shown, at, found.end())
        at = found.end()
    yield _Token("end", "", at, at)


def cases(text: str) -> tuple[str, ...]:
    """The cases of a figure's formula, each with its remark.

    >>> cases("1 / U | 1 / R; where R is known")
    ('1 / U', '1 / R; where R is known')
    """
    return tuple(case.strip() for case in text.split("|"))


@cache
def parse(text: str) -> Formula:
    """One case of a formula as a tree; NotationError where it does not follow the notation.

    >>> parse("U A (t_o - t_i)").term.visible
    (False, False, False)
    >>> parse("a / b c")
    Traceback (most recent call last):
    spec.derive.notation.NotationError: “c” at 7 of “a / b c”: what follows a fraction is unclear
    """
    written, _, remark = text.partition(";")
    return Formula(_Parser(written.strip()).whole(), remark.strip())


class _Parser:
    """Recursive descent over the tokens of one text."""

    def __init__(self, text: str) -> None:
        self.text = text
        self.tokens = tuple(_tokens(text))
        self.at = 0

    @property
    def now(self) -> _Token:
        return self.tokens[self.at]

    def take(self, *signs: str) -> str:
        """The next token's text if it is one of these signs, else nothing."""
        if self.now.kind in ("sign", "relation", "minus") and self.now.text in signs:
            self.at += 1
            return self.tokens[self.at - 1].text
        return ""

    def refuse(self, why: str) -> NotationError:
        shown = f"“{self.now.text}” at {self.now.at + 1}" if self.now.text else "the end"
        return NotationError(f"{shown} of “{self.text}”: {why}")

    def need(self, sign: str) -> None:
        if not self.take(sign):
            raise self.refuse(f"{sign} is missing")

    def whole(self) -> Term:
        term = self.chain(relations=True)
        if self.now.kind != "end":
            raise self.refuse("an operator is missing")
        return term

    def chain(self, *, relations: bool = False) -> Term:
        terms = [("-" if self.take("-") else "", self.term())]
        signs = ("+", "-", "=", "<", ">", "<=", ">=") if relations else ("+", "-")
        while True:
            if self.now.text == "-" and self.now.kind == "sign":
                raise self.refuse("a minus has spaces on both sides")
            sign = self.take(*signs)
            if not sign:
                break
            terms.append((sign, self.term()))
        return terms[0][1] if len(terms) == 1 and not terms[0][0] else Chain(tuple(terms))

    def term(self) -> Term:
        above = self.product()
        if not self.take("/"):
            return above
        below = self.power()
        if self.starts_factor() or self.now.text in ("/", "x", "*"):
            raise self.refuse("what follows a fraction is unclear")
        return Fraction(above, below)

    def product(self) -> Term:
        factors, visible = [self.power()], [False]
        while True:
            shown = bool(self.take("x", "*"))
            if not shown and not self.starts_factor():
                break
            factor = self.power()
            if not shown:
                self.beside(factors[-1], factor)
            factors.append(factor)
            visible.append(shown)
        return factors[0] if len(factors) == 1 else Product(tuple(factors), tuple(visible))

    def beside(self, left: Term, right: Term) -> None:
        """Refuse neighbors of which nobody can say where one ends."""
        name_first = isinstance(left, Words) and not isinstance(right, Group)
        name_last = isinstance(right, Words) and not isinstance(left, Number)
        if name_first or name_last or isinstance(right, Number):
            raise self.refuse("a name or number without an operator before or behind it")

    def starts_factor(self) -> bool:
        return self.now.kind in ("number", "symbol", "words", "quoted") or self.now.text == "("

    def power(self) -> Term:
        base = self.atom()
        return Power(base, self.atom()) if self.take("^") else base

    def atom(self) -> Term:
        token = self.now
        if self.take("("):
            body = self.chain()
            self.need(")")
            return Group(body)
        if not self.starts_factor():
            raise self.refuse("a number, a symbol or a name is missing")
        self.at += 1
        if token.kind == "number":
            return Number(token.text)
        if token.kind == "quoted":
            return Words(token.text)
        called = self.now.text == "(" and self.now.at == token.end
        if token.kind == "symbol":
            letter, _, below = token.text.partition("_")
            symbol = Symbol(letter, below)
            return Call(symbol, self.arguments()) if called else symbol
        if called:
            if token.text not in FUNCTIONS | {"sqrt", "sum"}:
                raise self.refuse(f"“{token.text}” is no function of the notation")
            return Call(Words(token.text), self.arguments())
        if token.text == "sum" and self.now.text == "over":
            return self.sum_over()
        return self.words(token)

    def arguments(self) -> tuple[Term, ...]:
        self.need("(")
        found = [self.chain()]
        while self.take(","):
            found.append(self.chain())
        self.need(")")
        return tuple(found)

    def words(self, first: _Token) -> Words:
        found = [first.text]
        while self.now.kind == "words":
            found.append(self.now.text)
            self.at += 1
        return Words(" ".join(found))

    def sum_over(self) -> Term:
        self.at += 1
        over = []
        while self.now.kind == "words" and self.now.text != "of":
            over.append(self.now.text)
            self.at += 1
        if not over or self.now.text != "of":
            raise self.refuse("say what the sum runs over, then “of”")
        self.at += 1
        return Call(Words("sum"), self.arguments(), " ".join(over))
