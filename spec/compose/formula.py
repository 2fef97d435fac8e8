"""A formula laid out for every format, spoken in words, and as one line of text.

The layout knows few parts, each a map with `is`: `var` (a symbol, slanted), `word` and `number`
(upright), `op` (a sign with room around it), `tight` (a sign without), `thin` (a hair of room),
`row`, `frac` (a, b), `sub` (a, b), `sup` (a, b) and `root` (a). Fractions are stacked in the
outermost row only, so that no sign needs to grow around them; farther in they have a slash.
"""

from __future__ import annotations

import re
from typing import Any, assert_never

from spec.derive.notation import (
    Call,
    Chain,
    Fraction,
    Group,
    Number,
    Power,
    Product,
    Symbol,
    Term,
    Words,
    parse,
)

Part = dict[str, Any]
LONGEST_LINE = 78
"""Signs that one line of a formula holds at most; a longer one is broken before a plus or minus."""
_SIGNS = {"-": "−", "<=": "≤", ">=": "≥"}
_NAMES = {
    "alpha": "α", "beta": "β", "gamma": "γ", "delta": "δ", "epsilon": "ε", "eta": "η",
    "theta": "θ", "kappa": "κ", "lambda": "λ", "mu": "μ", "nu": "ν", "pi": "π", "rho": "ρ",
    "sigma": "σ", "tau": "τ", "phi": "φ", "chi": "χ", "psi": "ψ", "omega": "ω",
    "capital gamma": "Γ", "difference": "Δ", "capital theta": "Θ", "capital lambda": "Λ",
    "capital pi": "Π", "capital sigma": "Σ", "capital phi": "Φ", "capital psi": "Ψ",
    "capital omega": "Ω",
}  # fmt: skip
_SPOKEN = {sign: name for name, sign in _NAMES.items()}
_RELATIONS = {
    "=": "equals", "<": "is less than", ">": "is more than", "<=": "is at most",
    ">=": "is at least", "+": "plus", "-": "minus",
}  # fmt: skip
_FUNCTIONS = {
    "sin": "the sine of", "cos": "the cosine of", "tan": "the tangent of",
    "arcsin": "the angle whose sine is", "arccos": "the angle whose cosine is",
    "ln": "the natural logarithm of", "log": "the logarithm to base ten of",
    "exp": "the exponential of", "min": "the least of", "max": "the greatest of",
    "sqrt": "the square root of", "sum": "the sum of",
}  # fmt: skip


def as_text(text: str) -> str:
    """A figure's formula as one line of text, for a table's cell.

    >>> as_text("1.5 x w L^4 / (384 E I); evenly loaded")
    '1.5 × w L^4 / (384 E I), evenly loaded'
    """
    for old, new in (('"', ""), (" x ", " × "), (" - ", " − "), ("sqrt(", "√("), (" | ", "; or ")):
        text = text.replace(old, new)
    return re.sub(r"(?<!or);(?! or)", ",", text)


# ---------------------------------------------------------------------- layout


def lines(term: Term) -> list[Part]:
    """The formula as one or more lines, broken before a sign of its outermost chain."""
    if not isinstance(term, Chain):
        return [_row(_outer(term))]
    made: list[list[Part]] = [[]]
    room: float = LONGEST_LINE
    for sign, part in term.terms:
        laid = _outer(part)
        wide = _width(_row(laid)) + 3
        if made[-1] and wide > room:
            made.append([])
            room = LONGEST_LINE
        room -= wide
        if sign:
            first = not made[-1] and len(made) == 1
            made[-1].append(_part("tight" if first else "op", _SIGNS.get(sign, sign)))
        made[-1] += laid
    return [_row(line) for line in made]


def _part(kind: str, text: str) -> Part:
    return {"is": kind, "text": text}


def _row(parts: list[Part]) -> Part:
    return parts[0] if len(parts) == 1 else {"is": "row", "parts": parts}


def _pair(kind: str, a: Term, b: Term) -> Part:
    return {"is": kind, "a": _row(_inner(a)), "b": _row(_inner(b))}


def _bare(term: Term) -> Term:
    return term.body if isinstance(term, Group) else term


def _outer(term: Term) -> list[Part]:
    """Parts of a term of the outermost row, where fractions are stacked."""
    match term:
        case Fraction():
            return [_pair("frac", _bare(term.above), _bare(term.below))]
        case _:
            return _inner(term)


def _inner(term: Term) -> list[Part]:
    match term:
        case Number():
            return [_part("number", term.text)]
        case Words():
            return [_part("word", term.text)]
        case Symbol():
            return [_symbol(term)]
        case Group():
            return [_part("tight", "("), *_inner(term.body), _part("tight", ")")]
        case Power():
            return [_pair("sup", term.base, _bare(term.exponent))]
        case Fraction():
            return [*_inner(term.above), _part("tight", "/"), *_inner(term.below)]
        case Product():
            return _product(term)
        case Chain():
            made: list[Part] = []
            for sign, part in term.terms:
                if sign:
                    made.append(_part("op" if made else "tight", _SIGNS.get(sign, sign)))
                made += _inner(part)
            return made
        case Call():
            return _call(term)
    assert_never(term)


def _symbol(symbol: Symbol) -> Part:
    letter = _part("var", symbol.letter.replace("'", "′"))
    if not symbol.below:
        return letter
    kind = "number" if symbol.below.isdigit() else "word"
    return {"is": "sub", "a": letter, "b": _part(kind, symbol.below)}


def _product(product: Product) -> list[Part]:
    made: list[Part] = []
    for factor, visible in zip(product.factors, product.visible, strict=True):
        if made:
            made.append(_part("op", "×") if visible else _part("thin", ""))
        made += _inner(factor)
    return made


def _call(call: Call) -> list[Part]:
    inside: list[Part] = []
    for argument in call.arguments:
        inside += [*([_part("tight", ","), _part("thin", "")] if inside else []), *_inner(argument)]
    if isinstance(call.name, Symbol):
        return [_symbol(call.name), _part("tight", "("), *inside, _part("tight", ")")]
    name = call.name.text
    if name == "sqrt":
        return [{"is": "root", "a": _row(inside)}]
    if name == "sum":
        sign = _part("tight", "Σ")
        over: Part = {"is": "sub", "a": sign, "b": _part("word", call.over)} if call.over else sign
        plain = all(isinstance(a, Symbol | Product) for a in call.arguments)
        held = inside if plain else [_part("tight", "("), *inside, _part("tight", ")")]
        return [over, _part("thin", ""), *held]
    return [_part("word", name), _part("tight", "("), *inside, _part("tight", ")")]


def _width(part: Part) -> float:
    """About how many letters wide a part is."""
    match part["is"]:
        case "row":
            return sum(_width(p) for p in part["parts"])
        case "frac":
            return max(_width(part["a"]), _width(part["b"]))
        case "sub" | "sup":
            return _width(part["a"]) + 0.7 * _width(part["b"])
        case "root":
            return 1 + _width(part["a"])
        case "op":
            return 3
        case "thin":
            return 0.3
        case _:
            return len(part["text"])


# ---------------------------------------------------------------------- speech


def spoken(text: str) -> str:
    """One case of a formula in words, without any sign: for who hears the page.

    >>> spoken("U A (t_o - t_i)")
    'U times A times, open parenthesis, t sub o minus t sub i, close parenthesis'
    >>> spoken("h/2")
    'h divided by 2'
    """
    said = re.sub(r"\s+", " ", _said(parse(text).term))
    return re.sub(r"( ?, ?)+", ", ", said).strip(", ")


def _said(term: Term) -> str:
    match term:
        case Number() | Words():
            return term.text
        case Symbol():
            letter = "".join(_letter(sign) for sign in term.letter).strip()
            return f"{letter} sub {term.below}" if term.below else letter
        case Group():
            return f", open parenthesis, {_said(term.body)}, close parenthesis, "
        case Power():
            return f"{_said(term.base)} {_to_the(_bare(term.exponent))}"
        case Fraction():
            return _quotient(term)
        case Product():
            return _times(term)
        case Chain():
            parts = [f"{_RELATIONS.get(sign, '')} {_said(part)}" for sign, part in term.terms]
            return " ".join(parts).strip()
        case Call():
            inside = ", and ".join(_said(argument) for argument in term.arguments)
            if isinstance(term.name, Symbol):
                return f"{_said(term.name)} of, {inside}, "
            name = _FUNCTIONS[term.name.text]
            over = f", over the {term.over}, of" if term.over else ""
            return f"{name.removesuffix(' of') if over else name}{over}, {inside}, to here, "
    assert_never(term)


def _times(product: Product) -> str:
    said = ""
    for factor, visible in zip(product.factors, product.visible, strict=True):
        counted = isinstance(factor, Words) and not visible
        said += (" " if counted else " times ") * bool(said) + _said(factor)
    return said


def _letter(sign: str) -> str:
    if sign == "'":
        return " prime"
    return f"{_SPOKEN[sign]} " if sign in _SPOKEN else sign


def _to_the(exponent: Term) -> str:
    usual = {"2": "squared", "3": "cubed"}
    if isinstance(exponent, Number) and exponent.text in usual:
        return usual[exponent.text]
    return f"to the power {_said(exponent)}, "


def _quotient(term: Fraction) -> str:
    above, below = _bare(term.above), _bare(term.below)
    simple = (Number, Symbol, Words)
    if isinstance(above, simple) and isinstance(below, simple):
        return f"{_said(above)} divided by {_said(below)}"
    return f", the fraction, {_said(above)}, divided by, {_said(below)}, end of fraction, "
