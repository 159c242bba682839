"""Exact factors of US units that rules and published formulas are written in."""

from __future__ import annotations

PSI = 6894.757293168
"""One pound-force per square inch, Pa."""
INCH = 0.0254
FOOT = 0.3048
CFM = FOOT**3 / 60.0
"""One cubic foot a minute, m3/s."""
