"""How a rule is registered: answers in, Finding out.

A check declares its parameters with their kind in the type; the procedure binds them to answers
and the loader verifies that the dimensions agree.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, replace
from functools import wraps
from typing import ParamSpec

from wizard.finding import Finding, Severity
from wizard.formula import Described
from wizard.sources import Source

P = ParamSpec("P")


@dataclass(frozen=True)
class CheckSpec(Described):
    """A registered check; `severity` is the gravest that it can give."""

    severity: Severity = Severity.ADVISORY


CHECKS: dict[str, CheckSpec] = {}
"""Every check by name; filled when the modules of `wizard.checks` are imported."""


def check(
    title: str,
    *,
    severity: Severity,
    source: Source | tuple[Source, ...],
    results: Mapping[str, str] | None = None,
) -> Callable[[Callable[P, Finding]], Callable[P, Finding]]:
    """Register a function as a check; `results` are the named values it hands on, with kind."""
    sources = source if isinstance(source, tuple) else (source,)

    def register(function: Callable[P, Finding]) -> Callable[P, Finding]:
        name = function.__name__

        @wraps(function)
        def judged(*args: P.args, **kwargs: P.kwargs) -> Finding:
            finding = function(*args, **kwargs)
            return replace(finding, check=name, sources=finding.sources or sources)

        if name in CHECKS and CHECKS[name].function.__module__ != function.__module__:
            raise ValueError(f"two checks named {name}")
        CHECKS[name] = CheckSpec(name, title, judged, dict(results or {}), sources, severity)
        return judged

    return register
