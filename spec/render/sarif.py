"""Findings in the Static Analysis Results Interchange Format, SARIF 2.1.0 (OASIS)."""

from __future__ import annotations

import os
from collections.abc import Sequence
from pathlib import Path, PurePath
from typing import Any
from urllib.parse import quote

from spec import __version__
from spec.check.rule import rules
from spec.compose.manual.entry import Entry
from spec.compose.manual.findings import finding_entry
from spec.finding import Finding, Level, Spot, Waived

SCHEMA = "https://docs.oasis-open.org/sarif/sarif/v2.1.0/os/schemas/sarif-schema-2.1.0.json"
_BASE = "JOBS"
_OTHER_SIDE = "the other side: "
Data = dict[str, Any]


def sarif(findings: Sequence[Finding], *, usable: bool = True, folder: Path | None = None) -> Data:
    """One run with every rule of the catalogue and every finding, waived ones suppressed.

    Files under `folder` (none: where the command runs) are named relative to it; `usable` says
    whether every job could be read. Plain data: the same findings give the same.
    """
    known = {name: rule.level for name, rule in rules().items()}
    others = sorted({finding.rule for finding in findings} - set(known))
    names = [*known, *others]
    return {
        "$schema": SCHEMA,
        "version": "2.1.0",
        "runs": [
            {
                "tool": {
                    "driver": {
                        "name": "scantling",
                        "semanticVersion": __version__,
                        "rules": [_rule(name, known.get(name)) for name in names],
                    }
                },
                "invocations": [{"executionSuccessful": usable}],
                "originalUriBaseIds": {
                    _BASE: {"description": {"text": "The folder from which the jobs are named."}}
                },
                "columnKind": "unicodeCodePoints",
                "results": [
                    _result(finding, names.index(finding.rule), folder or Path.cwd())
                    for finding in findings
                ],
            }
        ],
    }


def _rule(name: str, level: Level | None) -> Data:
    entry = finding_entry(name)
    if entry is None:
        return {"id": name}
    rule: Data = {
        "id": name,
        "shortDescription": {"text": f"{entry.title}."},
        "fullDescription": {"text": "\n".join(entry.words)},
        "help": {"text": _help(entry)},
        "properties": {"tags": [entry.subject]},
    }
    if level is not None:
        rule["defaultConfiguration"] = {"level": str(level)}
    return rule


def _help(entry: Entry) -> str:
    parts = ["\n".join(f"{label}: {text}" for label, text in entry.facts)]
    parts += [f"{label}:\n{text.strip(chr(10))}" for label, text in entry.examples]
    return "\n\n".join(parts)


def _result(finding: Finding, index: int, folder: Path) -> Data:
    cure = f"\n{finding.cure}" if finding.cure else ""
    result: Data = {
        "ruleId": finding.rule,
        "ruleIndex": index,
        "level": str(finding.level),
        "message": {"text": f"{finding.message}{cure}"},
        "locations": [_location(finding.spots[0], folder)],
        "partialFingerprints": {"ruleAndAddress/v1": f"{finding.rule} {finding.address}"},
        "suppressions": [_suppression(finding.waived)] if finding.waived is not None else [],
    }
    if len(finding.spots) > 1:
        result["relatedLocations"] = [
            {
                "id": number,
                "message": {"text": f"{_OTHER_SIDE}{spot.address}"},
                **_location(spot, folder),
            }
            for number, spot in enumerate(finding.spots[1:], 1)
        ]
    if finding.trades:
        result["properties"] = {"trades": list(finding.trades)}
    return result


def _location(spot: Spot, folder: Path) -> Data:
    location: Data = {
        "physicalLocation": {
            "artifactLocation": _artifact(spot.place.file, folder),
            "region": {"startLine": spot.place.line, "startColumn": spot.place.column},
        }
    }
    if spot.address:
        location["logicalLocations"] = [{"fullyQualifiedName": spot.address}]
    return location


def _artifact(file: str, folder: Path) -> Data:
    """A file under the folder relative to it; any other by its whole address."""
    whole = Path(os.path.normpath(folder / file))
    if whole.is_relative_to(folder):
        return {"uri": quote(PurePath(whole.relative_to(folder)).as_posix()), "uriBaseId": _BASE}
    return {"uri": whole.as_uri()}


def _suppression(waived: Waived) -> Data:
    """A waiver: accepted outside the finding, with who, when and until when in its properties."""
    who = {"who": waived.who, "when": waived.when, "until": waived.until}
    return {
        "kind": "external",
        "status": "accepted",
        "justification": waived.why,
        "properties": {key: value for key, value in who.items() if value},
    }
