"""All proofs, and the table of calculation, source, mark, oracle and worst relative error.

Run as a program it prints the table: python -m tests.proof.evidence
"""

from __future__ import annotations

from collections.abc import Iterator
from importlib import import_module
from pathlib import Path

from tests.proof.model import Proof
from wizard import calc, checks
from wizard.formula import Described


def proofs() -> Iterator[Proof]:
    """Every proof of every domain."""
    for path in sorted(Path(__file__).parent.glob("*.py")):
        if path.stem not in ("__init__", "model", "evidence"):
            yield from import_module(f"tests.proof.{path.stem}").PROOFS


def calculations() -> dict[str, Described]:
    """Every formula and check by name."""
    return {**calc.load(), **checks.load()}


def error(ours: float | str, theirs: float | str) -> float:
    """Relative difference; texts differ by 0 or 1."""
    if isinstance(ours, str) or isinstance(theirs, str):
        return 0.0 if ours == theirs else 1.0
    if theirs == 0:
        return abs(ours)
    return abs(ours - theirs) / abs(theirs)


def worst(proof: Proof) -> float:
    """The worst relative error over the cases of a proof."""
    return max(error(ours, theirs) for ours, theirs in proof.cases())


def table() -> Iterator[str]:
    """The table in Markdown, a row a calculation and oracle."""
    yield "| calculation | source | mark | oracle | worst relative error |"
    yield "|---|---|---|---|---|"
    found = calculations()
    for proof in sorted(proofs(), key=lambda p: (p.calculation, p.oracle)):
        spec = found[proof.calculation]
        source = "; ".join(s.text for s in spec.sources)
        marks = ", ".join(dict.fromkeys(s.mark for s in spec.sources))
        yield (
            f"| {proof.calculation} | {source} | {marks} | {proof.oracle} | {worst(proof):.1e} |"
        )


if __name__ == "__main__":
    print("\n".join(table()))
