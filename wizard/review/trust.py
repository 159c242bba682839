"""Whom a lead believes: the list of allowed keys and the list of revoked ones.

Invariant: both are the lead's own and are never looked for in the folder that is reviewed.
"""

from __future__ import annotations

from dataclasses import dataclass
from hashlib import sha256
from pathlib import Path

from wizard.settings_file import config_home

ALLOWED, REVOKED = "allowed_signers", "revoked_keys"


@dataclass(frozen=True, slots=True)
class Trust:
    """The two lists; None where there is none."""

    allowed: Path | None = None
    revoked: Path | None = None

    @classmethod
    def own(cls) -> Trust:
        """The lists of whoever runs the tool."""
        home = config_home()
        found = (path if (path := home / name).is_file() else None for name in (ALLOWED, REVOKED))
        return cls(*found)

    def digest(self, day: str) -> str:
        """What changes when the lists do; with the day, where keys come and go with it."""
        parts = [path.read_bytes() if path else b"" for path in (self.allowed, self.revoked)]
        dated = day if b"valid-" in parts[0] else ""
        return sha256(b"\0".join([*parts, dated.encode()])).hexdigest()
