"""Whom a lead believes: the list of allowed keys and the list of revoked ones.

Invariant: both are the lead's own and are never looked for in the folder that is reviewed; of a
key only the public half is read.
"""

from __future__ import annotations

import re
from base64 import b64decode, b64encode
from collections.abc import Iterator
from dataclasses import dataclass
from fnmatch import fnmatchcase
from hashlib import sha256
from pathlib import Path

from wizard.settings_file import config_home
from wizard.signing import namespace
from wizard.text import show

ALLOWED, REVOKED = "allowed_signers", "revoked_keys"
_LINE = re.compile(
    r'\s*(?:"(?P<quoted>[^"]+)"|(?P<plain>[^\s"#]+))\s+(?P<options>.*?)'
    r"(?:ssh|ecdsa|sk)-[\w@.-]+\s+(?P<key>[A-Za-z0-9+/=]+)"
)
_SPACES = re.compile(r'namespaces="([^"]*)"', re.IGNORECASE)
_PATTERN = frozenset("*?!")


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

    def identities(self, key: str, role: str) -> tuple[str, ...]:
        """Under which names the list has a public key, in base 64, in a role."""
        if not key or self.allowed is None:
            return ()
        text = self.allowed.read_text("utf-8", "replace")
        return tuple(name for name, known in _listed(text, role) if known == key)

    def proposed(self, file: str, role: str) -> str:
        """The one name that the list has for a key file in a role; empty where it is not one."""
        names = self.identities(public_key(file), role)
        return names[0] if len(names) == 1 and not _PATTERN & set(names[0]) else ""

    def why_not(self, signature: str, principal: str, role: str) -> str:
        """Why a signature just made is not good by these lists, in one sentence."""
        names = [show(name) for name in self.identities(signing_key(signature), role)]
        listed = f"{show(self.allowed)} knows this key in the role of {role}"
        if not names:
            why = f"{show(self.allowed)} does not have this key in the role of {role}"
        elif principal not in names:
            why = f"{listed} as {' or '.join(names)}, not as {show(principal)}"
        else:
            why = f"{listed}, but it has expired or is revoked"
        return f"The record was not signed: {why}."


def _listed(text: str, role: str) -> Iterator[tuple[str, str]]:
    """Names and keys of a list of allowed keys that may sign in a role."""
    for line in text.splitlines():
        found = _LINE.match(line)
        if found is None:
            continue
        spaces = _SPACES.search(found["options"])
        wanted = spaces[1].split(",") if spaces else ["*"]
        if any(fnmatchcase(namespace(role), pattern) for pattern in wanted):
            for name in (found["quoted"] or found["plain"]).split(","):
                yield name, found["key"]


def public_key(file: str) -> str:
    """The public half of a key file in base 64, from the .pub beside it; empty without one."""
    if not file:
        return ""
    path = Path(file if file.endswith(".pub") else f"{file}.pub").expanduser()
    try:
        words = path.read_bytes()[:16_384].decode("ascii", "replace").split()
    except OSError:
        return ""
    return words[1] if len(words) > 1 else ""


def signing_key(signature: str) -> str:
    """The public key that a signature names, in base 64."""
    lines = [line for line in signature.splitlines() if line and not line.startswith("-")]
    data = b64decode("".join(lines))[len(b"SSHSIG") + 4 :]
    length = int.from_bytes(data[:4], "big")
    return b64encode(data[4 : 4 + length]).decode("ascii")
