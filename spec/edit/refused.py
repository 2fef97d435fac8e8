"""An edit that is not made: what is wrong, and what would put it right."""

from __future__ import annotations

from spec.finding import Finding


class Refused(Exception):
    """Nothing was written; `findings` are what the edited file would say, where it is that."""

    def __init__(self, message: str, cure: str = "", findings: tuple[Finding, ...] = ()) -> None:
        super().__init__(message)
        self.message, self.cure, self.findings = message, cure, findings
