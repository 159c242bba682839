"""The proof table as a guide: python -m tests.proof_page writes wizard/guide/proof.md anew."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

from tests.proof.evidence import table

PAGE = Path(__file__).parents[1] / "wizard" / "guide" / "proof.md"

HEAD = """# What the numbers were held against

Every formula and rule of the tool, where its limit comes from, how far that can be trusted, what
outside the tool it was compared with, and the worst relative difference that was found. Words,
sizes and dates must agree exactly; a difference of 0.0e+00 means that they do.

- confirmed: read in a public copy; check the edition in force.
- computed: worked out from first principles.
- memory: recalled and not looked up; check the edition in force.
- judgement: our own choice where codes leave room.

This page is made by the tests. `wizard calc NAME` shows a calculation with its working.
"""


def page() -> Iterator[str]:
    """The lines of the page."""
    yield HEAD
    yield from table()


def main() -> None:
    """Write the page."""
    PAGE.write_text("\n".join(page()) + "\n", encoding="utf-8")


if __name__ == "__main__":
    main()
