"""The errors that are planted: cosmic-ray's operators, and four of our own."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any

import parso.tree
from cosmic_ray.ast import ast_nodes, get_ast
from cosmic_ray.mutating import mutate_code
from cosmic_ray.operators.operator import Operator
from cosmic_ray.plugins import get_operator

Node = Any
"""A node of parso, which says nothing of its types."""

_BORROWED = [
    *(f"ReplaceBinaryOperator_{pair}" for pair in (
        "Add_Sub", "Sub_Add", "Mul_Div", "Div_Mul", "Pow_Mul", "Mod_Mul", "FloorDiv_Mul",
        "BitAnd_BitOr",
    )),
    *(f"ReplaceComparisonOperator_{pair}" for pair in (
        "Lt_LtE", "LtE_Lt", "Gt_GtE", "GtE_Gt", "Lt_GtE", "GtE_Lt", "Gt_LtE", "LtE_Gt",
        "Eq_NotEq", "NotEq_Eq", "Is_IsNot", "IsNot_Is",
    )),
    "ReplaceUnaryOperator_Delete_USub", "ReplaceUnaryOperator_Delete_Not",
    "ReplaceTrueWithFalse", "ReplaceFalseWithTrue", "ReplaceAndWithOr", "ReplaceOrWithAnd",
    "AddNot",
]  # fmt: skip


class Number(Operator):
    """A tenth more, and within a function a tenth less; a whole number under ten, one."""

    def mutation_positions(self, node: Node) -> Iterator[tuple[Any, Any]]:
        if node.type == "number" and not _hair(node.value):
            within = parso.tree.search_ancestor(node, "funcdef") is not None
            yield from [(node.start_pos, node.end_pos)] * (2 if within else 1)

    def mutate(self, node: Node, index: int) -> Node:
        value = float(node.value) if _broken(node.value) else int(node.value)
        if isinstance(value, int):
            value += max(1, round(value / 10)) * (1, -1)[index]
        else:
            value = float(f"{value * (1.1, 0.9)[index]:.9g}") if value else (0.1, -0.1)[index]
        node.value = repr(value) if value >= 0 else f"({value!r})"
        return node

    @classmethod
    def examples(cls) -> tuple[()]:
        return ()


class Nothing(Operator):
    """Nothing is returned."""

    def mutation_positions(self, node: Node) -> Iterator[tuple[Any, Any]]:
        if node.type == "return_stmt" and node.children[1].get_code().strip() != "None":
            yield node.start_pos, node.end_pos

    def mutate(self, node: Node, index: int) -> Node:
        node.children[1:] = get_ast(" None").children[:1]
        return node

    @classmethod
    def examples(cls) -> tuple[()]:
        return ()


class Twin(Operator):
    """One function for its twin."""

    twins = {"min": "max", "sin": "cos", "floor": "ceil", "any": "all", "sorted": "list"}  # noqa: RUF012
    both = twins | {other: one for one, other in twins.items() if other != "list"}

    def mutation_positions(self, node: Node) -> Iterator[tuple[Any, Any]]:
        called = node.type == "name" and node.get_next_leaf().value == "("
        if called and node.value in self.both:
            yield node.start_pos, node.end_pos

    def mutate(self, node: Node, index: int) -> Node:
        node.value = self.both[node.value]
        return node

    @classmethod
    def examples(cls) -> tuple[()]:
        return ()


@dataclass(frozen=True)
class Mutant:
    """A module with one error in it: where, the line before and after, the whole source."""

    line: int
    before: str
    after: str
    source: str


def mutants(source: str) -> Iterator[Mutant]:
    """Every error in turn. Raises nothing for a source that compiles."""
    operators = [get_operator(f"core/{name}")() for name in _BORROWED]
    nodes = [*ast_nodes(get_ast(source))]
    seen = {source}
    for operator in (Number(), Nothing(), Twin(), *operators):
        occurrence = -1
        for node in nodes:
            for start, _ in operator.mutation_positions(node):
                occurrence += 1
                if _spared(node):
                    continue
                changed = mutate_code(source, operator, occurrence)
                if changed is not None and changed not in seen and _compiles(changed):
                    seen.add(changed)
                    yield _told(source, changed, start[0])


def _told(source: str, changed: str, line: int) -> Mutant:
    """The error with the line that it changed, found by comparing: nodes may span lines."""
    old, new = source.splitlines(), changed.splitlines()
    at = next((i for i, (a, b) in enumerate(zip(old, new, strict=False)) if a != b), line - 1)
    return Mutant(at + 1, old[at].strip(), new[at].strip(), changed)


def _compiles(source: str) -> bool:
    try:
        compile(source, "mutant", "exec")
    except SyntaxError:
        return False
    return True


def _broken(literal: str) -> bool:
    return any(sign in literal for sign in ".eEjJ")


def _hair(literal: str) -> bool:
    """A rounding that is forgiven, 1e-9 and the like: a tenth of it is nothing."""
    return literal.startswith("1e-") and float(literal) < 1e-5


def _spared(node: Node) -> bool:
    """Whether a node is an annotation, a type, a signature's star, or what a message says."""
    below, above = node, node.parent
    while above is not None:
        if above.type in ("tfpdef", "fstring", "decorator"):
            return True
        if above.type == "annassign" and below is above.children[1]:
            return True
        if above.type == "funcdef" and below is above.annotation:
            return True
        if above.type in ("power", "atom_expr") and above.children[0].get_code().strip() in (
            "Literal", "dict", "tuple", "Mapping", "Sequence", "TypeVar",
        ):  # fmt: skip
            return True
        below, above = above, above.parent
    operator = node.type == "operator"
    return operator and node.parent.type in ("parameters", "param", "arglist", "argument")
