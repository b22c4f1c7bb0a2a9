"""What a check of the knowledge base found: findings with file and line, and notes for curators."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Any, Literal

from kb.namespaces import BASE, PREFIXES
from kb.soundness.shape_checks import Breach

Severity = Literal["violation", "warning"]
SEVERITIES: dict[str, Severity] = {"Violation": "violation", "Warning": "warning"}
"""SHACL's word for it -> ours."""
SHOWN_ROWS = 3
"""How many rows of a note the readable report prints."""


@dataclass(frozen=True, slots=True)
class Finding:
    """One thing to mend (violation) or to look at again (warning).

    ``component`` is SHACL's name for the constraint that is broken, where a shape found it.
    """

    severity: Severity
    file: str | None
    subject: str | None
    path: str | None
    message: str
    shape: str
    line: int | None = None
    component: str | None = None

    def __str__(self) -> str:
        where = self.file or ""
        if self.line is not None:
            where = f"{where}, line {self.line}"
        what = self.subject or ""
        if self.path is not None:
            what = f"{what} ({self.path})".lstrip()
        return ": ".join(part for part in (where, what, self.message) if part)

    def as_dict(self) -> dict[str, Any]:
        return {
            "severity": self.severity,
            "file": self.file,
            "line": self.line,
            "subject": self.subject,
            "path": self.path,
            "message": self.message,
            "shape": self.shape,
            "component": self.component,
        }


@dataclass(frozen=True, slots=True)
class Note:
    """One informative question about the whole data set and the rows that answer it."""

    name: str
    question: str
    rows: tuple[tuple[str, str], ...]

    def __str__(self) -> str:
        first = "; ".join(f"{subject}: {detail}" for subject, detail in self.rows[:SHOWN_ROWS])
        more = "; ..." if len(self.rows) > SHOWN_ROWS else ""
        return f"{self.question} {len(self.rows)}: {first}{more}"

    def as_dict(self) -> dict[str, Any]:
        rows = [{"subject": subject, "detail": detail} for subject, detail in self.rows]
        return {"name": self.name, "question": self.question, "rows": rows}


@dataclass(frozen=True, slots=True)
class Report:
    """What a check of a whole folder found."""

    findings: tuple[Finding, ...]
    notes: tuple[Note, ...]
    counts: Mapping[str, int] = field(default_factory=dict)

    @property
    def violations(self) -> tuple[Finding, ...]:
        return tuple(finding for finding in self.findings if finding.severity == "violation")

    @property
    def warnings(self) -> tuple[Finding, ...]:
        return tuple(finding for finding in self.findings if finding.severity == "warning")

    @property
    def sound(self) -> bool:
        """Whether nothing must be mended; warnings and notes leave it sound."""
        return not self.violations

    def lines(self) -> list[str]:
        """The report for a person, a finding a line, the verdict last."""
        found = ", ".join(f"{number} {thing}" for thing, number in self.counts.items())
        verdict = "sound" if self.sound else "not sound"
        return [
            *(f"mend: {finding}" for finding in self.violations),
            *(f"look again: {finding}" for finding in self.warnings),
            *(f"note: {note}" for note in self.notes if note.rows),
            f"{found}: {len(self.violations)} to mend, {len(self.warnings)} to look at again; {verdict}.",
        ]

    def as_dict(self) -> dict[str, Any]:
        return {
            "sound": self.sound,
            "counts": dict(self.counts),
            "findings": [finding.as_dict() for finding in self.findings],
            "notes": [note.as_dict() for note in self.notes],
        }


def shortened(iri: str) -> str:
    """An IRI as a file writes it: ``tb:locator``; a thing of ours without the prefix."""
    for prefix, namespace in PREFIXES.items():
        if iri.startswith(namespace) and prefix != "tb":
            return f"{prefix}:{iri.removeprefix(namespace)}"
    return f"tb:{iri.removeprefix(BASE)}" if iri.startswith(BASE) else iri


def finding_of(breach: Breach, *, file: str | None = None, line: int | None = None) -> Finding:
    """The finding for one broken constraint."""
    path = None if breach.path is None or breach.inverse else shortened(breach.path)
    return Finding(
        severity=SEVERITIES[breach.severity],
        file=file,
        subject=local_name(breach.culprit.value),
        path=breach.name or path,
        message=breach.message,
        shape=local_name(breach.shape),
        line=line,
        component=breach.component,
    )


def local_name(iri: str) -> str:
    """The name of a thing of ours: ``record.malus-domestica...``; other IRIs as they are."""
    return iri.removeprefix(BASE)
