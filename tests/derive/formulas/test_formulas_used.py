"""No formula is idle: each is called by a sheet or a rule, or by another formula that is."""

from __future__ import annotations

import ast
from collections.abc import Iterator
from pathlib import Path

import spec

_SPEC = Path(spec.__file__).parent
_FORMULAS = _SPEC / "derive" / "formulas"
_PACKAGE = "spec.derive.formulas"

_WAITING = frozenset({"boxes", "circuits", "conductors", "low_voltage"})
"""Wires and boxes: some of their formulas still wait for a sheet."""

Name = tuple[str, str]


def _bound(tree: ast.AST) -> tuple[dict[str, set[str]], dict[str, Name]]:
    """What names stand for in a file: modules of formulas, and things out of them."""
    modules: dict[str, set[str]] = {}
    things: dict[str, Name] = {}
    for node in ast.walk(tree):
        if not isinstance(node, ast.ImportFrom) or node.module is None:
            continue
        for alias in node.names:
            known_as = alias.asname or alias.name
            if node.module == _PACKAGE:
                modules.setdefault(known_as, set()).add(alias.name)
            elif node.module.startswith(f"{_PACKAGE}."):
                things[known_as] = (node.module.removeprefix(f"{_PACKAGE}."), alias.name)
    return modules, things


def _named(
    tree: ast.AST, modules: dict[str, set[str]], things: dict[str, Name], own: str = ""
) -> Iterator[Name]:
    """The formulas that a piece of code names; `own` is the module that it stands in."""
    for node in ast.walk(tree):
        match node:
            case ast.Attribute(value=ast.Name(id=module), attr=name) if module in modules:
                yield from ((found, name) for found in modules[module])
            case ast.Name(id=name) if name in things:
                yield things[name]
            case ast.Name(id=name) if own:
                yield own, name


def _idle() -> list[str]:
    """The public functions of the formulas that nothing leads to from outside them."""
    bodies: dict[Name, set[Name]] = {}
    reached: set[Name] = set()
    for path in sorted(_SPEC.rglob("*.py")):
        tree = ast.parse(path.read_text(encoding="utf-8"))
        modules, things = _bound(tree)
        if path.parent != _FORMULAS:
            reached |= set(_named(tree, modules, things))
            continue
        for node in tree.body:
            named = set(_named(node, modules, things, path.stem))
            if isinstance(node, ast.FunctionDef | ast.ClassDef):
                bodies[path.stem, node.name] = named - {(path.stem, node.name)}
            else:
                reached |= named
    ahead = list(reached)
    while ahead:
        for following in bodies.get(ahead.pop(), set()) - reached:
            reached.add(following)
            ahead.append(following)
    public = (n for n in bodies if n[1][0].islower() and n[0] not in _WAITING)
    return sorted(".".join(name) for name in public if name not in reached)


def test_every_formula_is_used() -> None:
    assert _idle() == []
