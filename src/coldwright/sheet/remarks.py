"""The short way to a finding; its line and file are filled in when all are collected."""

from __future__ import annotations

from coldwright.findings import Finding, Severity
from coldwright.sheet.shown import printable


def remark(
    code: str,
    severity: Severity,
    where: str,
    given: str,
    allowed: str = "",
    *,
    why: str = "",
    action: str = "",
) -> Finding:
    """A finding on the design: "<given> is not <allowed>. <why>. Try <action>.".

    A `given` that is a clause stands as a sentence of its own.
    """
    # Names and values of the file come along in these; none may break the line.
    where, given, allowed, why, action = map(printable, (where, given, allowed, why, action))
    return Finding(code, severity, where, given, allowed, why, action)
