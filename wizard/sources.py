"""Where a limit comes from, and how far it can be trusted.

Invariant: nothing is judged without a source, and every source carries its honesty mark.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

Mark = Literal["confirmed", "computed", "memory", "judgement"]
"""confirmed: read in a public copy; computed: worked out here; memory: recalled, not looked
up; judgement: our own choice where codes leave room."""

PLAIN = {
    "confirmed": "read in a public copy; check the edition in force",
    "computed": "worked out from first principles",
    "memory": "from memory, not looked up; check the edition in force",
    "judgement": "our judgement",
}


@dataclass(frozen=True, slots=True)
class Source:
    """A published source with its clause, or "common practice, no source"."""

    text: str
    mark: Mark

    def __str__(self) -> str:
        """The source as it is printed beside a limit.

        >>> print(Source("NEMA MG 1-2011 12.44.1", "confirmed"))
        NEMA MG 1-2011 12.44.1 (read in a public copy; check the edition in force)
        >>> print(OUR_JUDGEMENT)
        our judgement
        """
        plain = PLAIN[self.mark]
        return self.text if plain in self.text else f"{self.text} ({plain})"


COMMON_PRACTICE = Source("common practice, no source", "memory")
OUR_JUDGEMENT = Source("our judgement", "judgement")
