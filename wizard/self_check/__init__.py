"""What the tool runs on and what of it will not do, for a bug report.

Invariant: everything is tried and not guessed, nothing is left behind, and a thing that cannot be
tried is said, never raised. No name of a machine, network or key is told.
"""

from __future__ import annotations

from wizard.self_check.facts import Facts, facts
from wizard.self_check.remarks import remarks

__all__ = ["Facts", "facts", "remarks"]
