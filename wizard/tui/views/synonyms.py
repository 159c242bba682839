"""Words of the trade that mean the same, for whoever searches by the other one.

Invariant: a word finds at least what it finds by itself.
"""

from __future__ import annotations

SAME = (
    ("ground", "earth", "bond", "protective conductor", "pe conductor"),
    ("breaker", "mcb", "mccb", "circuit breaker", "fuse", "overcurrent device"),
    ("rcd", "gfci", "residual-current", "ground-fault"),
    ("guard", "fork", "belt cover"),
    ("sheave", "pulley"),
    ("receiver", "tank", "vessel"),
    ("relief valve", "safety valve", "psv", "prv"),
    ("pressure switch", "pressostat"),
    ("disconnect", "isolator", "isolating switch", "main switch"),
    ("conductor", "wire", "cable"),
    ("conduit", "trunking", "raceway"),
    ("starter", "contactor"),
    ("overload", "thermal relay"),
    ("inverter", "vfd", "frequency converter"),
    ("lockout", "loto", "locked out", "isolation"),
    ("gauge", "manometer"),
    ("intake", "suction", "air filter", "inlet"),
    ("hose", "flexible"),
    ("anchor", "foundation bolt", "foot bolt"),
    ("feet", "foot", "mounts"),
    ("drain", "condensate"),
    ("noise", "sound"),
    ("crane", "hoist", "lifting"),
    ("sling", "chain"),
    ("clearance", "working space", "gangway"),
)
"""Each row means one thing."""

LEAST = 3
"""Letters from which the beginning of a word of a row is enough, as in eart."""


def meant(word: str) -> tuple[str, ...]:
    """The word as typed, then the others of its rows, in small letters.

    >>> meant("Earth")[:2], meant("volt")
    (('earth', 'ground'), ('volt',))
    """
    typed = " ".join(word.casefold().split())
    stem = typed.removesuffix("ing")
    rows = (r for r in SAME if len(stem) >= LEAST and any(_names(stem, w) for w in r))
    return tuple(dict.fromkeys((typed, *(w for row in rows for w in row))))


def _names(stem: str, word: str) -> bool:
    return word.startswith(stem) or stem == f"{word}s"
