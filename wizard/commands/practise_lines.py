"""Practice in plain lines."""

from __future__ import annotations


def run(learner: str, name: str, seed: int | None, resume: bool) -> int:
    return 0
