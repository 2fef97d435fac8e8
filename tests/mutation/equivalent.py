"""Errors that nobody could see, and why: module, the line as the error leaves it, the reason.

A line that the formulas no longer have is reported when its module runs.
"""

from __future__ import annotations

EQUIVALENT: dict[str, dict[str, str]] = {}
"""Module: the changed line without its indentation: why it changes nothing."""
