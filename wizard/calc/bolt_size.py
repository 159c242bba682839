"""Sizes of bolt threads and strength of bolt grades, as the tables give them."""

from __future__ import annotations

from typing import NamedTuple

from wizard.both_units import both
from wizard.calc.accepted import above_zero, one_of
from wizard.errors import OutsideValidity
from wizard.formula import formula
from wizard.kinds import Length
from wizard.quantities import to_si
from wizard.sources import Source
from wizard.tables import table


class Thread(NamedTuple):
    """Major diameter, pitch and tensile stress area, m, m, m2."""

    diameter: float
    pitch: float
    area: float


def threads() -> tuple[str, ...]:
    """Names of the threads that are tabled."""
    return tuple(row["thread"] for row in table("bolt_threads").rows)


def grades() -> tuple[str, ...]:
    """Head markings whose proof strength is tabled."""
    return tuple(dict.fromkeys(row["grade"] for row in table("bolt_grades").rows))


def surfaces() -> tuple[str, ...]:
    """States of the thread whose nut factor is tabled."""
    return tuple(row["surface"] for row in table("nut_factors").rows)


@formula(
    "Size of a thread",
    equation="diameter, pitch and area = row of the table for thread",
    results={"diameter": "length", "pitch": "length", "area": "area"},
    source=Source("ASME B1.1 and ISO 898-1, coarse threads", "memory"),
)
def thread_size(thread: str) -> Thread:
    """Major diameter, pitch and tensile stress area of a coarse thread.

    Parameters
    ----------
    thread : str
        Name such as 3/8-16 or M10

    Returns
    -------
    Thread
        Diameter, [m], pitch, [m], and stress area, [m2]

    Examples
    --------
    M12 has a stress area of 84.3 mm2 (ISO 898-1):

    >>> round(thread_size("M12").area * 1e6, 1)
    84.3
    """
    one_of("thread", thread, threads())
    row = table("bolt_threads").row("thread", thread)
    return Thread(row["diameter"] / 1e3, row["pitch"] / 1e3, row["area"] / 1e6)


@formula(
    "Proof strength of a bolt",
    equation="proof = row of the table for grade and diameter",
    results="stress",
    source=Source("SAE J429 and ISO 898-1", "memory"),
)
def proof_strength(grade: str, diameter: Length) -> float:
    """Stress a bolt takes without lasting stretch.

    Parameters
    ----------
    grade : str
        Marking on the head, such as 8.8 or SAE grade 5
    diameter : float
        Major diameter, 6 mm to 25.4 mm, [m]

    Returns
    -------
    float
        Proof strength, [Pa]

    Examples
    --------
    >>> proof_strength("8.8", 0.012), proof_strength("8.8", 0.020)
    (580000000.0, 600000000.0)
    """
    one_of("grade", grade, grades())
    above_zero("diameter", diameter, "length", "mm")
    rows = [r for r in table("bolt_grades").rows if r["grade"] == grade]
    for row in rows:
        if diameter * 1e3 <= row["up_to"] * (1 + 1e-9):
            return float(row["proof"] * 1e6)
    largest = both(to_si(rows[-1]["up_to"], "length", "mm"), "length")
    raise OutsideValidity("diameter", both(diameter, "length"), f"up to {largest}")
