"""The branch-circuit conductor: large enough for the motor, where it lies.

Invariant: copper only; aluminium and unknown sizes are refused, never guessed.
"""

from __future__ import annotations

from wizard.calc.accepted import above_zero, one_of
from wizard.calc.conductor import (
    AMPACITY,
    capacity_ratio,
    minimum_conductor,
    required_ampacity,
    usable_ampacity,
)
from wizard.checks.given import given
from wizard.checks.rule import check
from wizard.errors import InputError, OutsideValidity
from wizard.finding import Finding, Limit, Severity, Verdict
from wizard.formula import Step, work
from wizard.kinds import Current, Temperature
from wizard.quantities import Quantity, at_least
from wizard.sources import Source

HOT_WIRE = "Thin wire overheats inside the conduit where nobody sees it, and starts fires."


def _copper(material: str) -> None:
    one_of("material", material, ("copper", "aluminium"))
    if material != "copper":
        raise InputError(
            "conductor material", material, "copper; the electrician sizes aluminium by the code"
        )


@check(
    "Branch-circuit conductor",
    severity=Severity.SAFETY,
    source=(Source("NEC 430.22", "confirmed"), AMPACITY),
    results={"minimum": "number", "usable": "current", "required": "current"},
)
def conductor_size(
    current: Current,
    size: str,
    insulation: str,
    terminal: str,
    ambient: Temperature,
    conductors: int = 3,
    cool_credit: bool = False,
    material: str = "copper",
) -> Finding:
    """Usable ampacity of the wire installed against 125 % of the sizing current.

    Parameters
    ----------
    current : float
        Sizing current of the motor, [A]
    size : str
        Size on the jacket, 14 to 2 AWG
    insulation : str
        Insulation temperature, 60 °C, 75 °C or 90 °C
    terminal : str
        Lowest terminal marking of the run, 60 °C, 75 °C or not marked (taken as 60 °C)
    ambient : float
        Hottest ambient along the run, -20 °C to 60 °C, [K]
    conductors : int, optional
        Current-carrying conductors together, 1 to 41
    cool_credit : bool, optional
        Whether a cool room may raise the ampacity, [-]
    material : str, optional
        copper or aluminium
    """
    _copper(material)
    place = {
        "insulation": insulation,
        "terminal": terminal,
        "ambient": ambient,
        "conductors": conductors,
        "cool_credit": cool_credit,
    }
    required, required_step = work(required_ampacity, current=current)
    carries, step = work(usable_ampacity, size=size, **place)
    least, least_step = _least(current, place)
    good = at_least(carries.usable, required)
    text = "The wire carries the motor." if good else "The wire is too small for the motor."
    if terminal == "not marked":
        text += " Terminals without marking are taken as 60 °C."
    results = {"usable": carries.usable, "required": required}
    return Finding(
        Verdict.PASS if good else Verdict.FAIL,
        text,
        Severity.SAFETY,
        Quantity(carries.usable, "current"),
        Limit(required, None, "current"),
        (required_step, step, *least_step),
        danger=HOT_WIRE,
        clears=""
        if good
        else f"Do not energise. Pull at least {least:g} AWG copper, or cool or separate the run."
        if least
        else "Do not energise. No size to 2 AWG carries it; an engineer sizes the run.",
        results=results | ({"minimum": least} if least else {}),
    )


def _least(current: float, place: dict[str, object]) -> tuple[float, tuple[Step, ...]]:
    """Smallest size that would do, 0 where none of the table does."""
    try:
        least, step = work(minimum_conductor, current=current, **place)
    except OutsideValidity:
        return 0.0, ()
    return least, (step,)


@check(
    "Current-carrying capacity of the conductor, IEC practice",
    severity=Severity.SAFETY,
    source=Source("IEC 60364-4-43 433.1 and IEC 60364-5-52", "memory"),
)
def conductor_capacity(
    capacity: Current,
    full_load: Current,
    setting: Current | None = None,
    material: str = "copper",
) -> Finding:
    """Capacity as installed, from the designer's tables, against motor and overload setting.

    Parameters
    ----------
    capacity : float
        Current-carrying capacity for method, ambient and grouping of this run, [A]
    full_load : float
        Nameplate current for the connected voltage, [A]
    setting : float, optional
        Overload setting, [A]
    material : str, optional
        copper or aluminium
    """
    _copper(material)
    above_zero("full_load", full_load, "current", "A")
    if setting is not None:
        above_zero("setting", setting, "current", "A")
    needed = max(full_load, given(setting, 0.0))
    ratio, step = work(capacity_ratio, capacity=capacity, setting=needed)
    good = at_least(ratio, 1.0)
    return Finding(
        Verdict.PASS if good else Verdict.FAIL,
        "The conductor carries what the protection lets through."
        if good
        else "The conductor carries less than the protection lets through.",
        Severity.SAFETY,
        Quantity(capacity, "current"),
        Limit(needed, None, "current"),
        (step,),
        danger=HOT_WIRE,
        clears="" if good else "Do not energise. A larger conductor, or another method of laying.",
        ask="Is this the capacity of one circuit? It is far above the motor." if ratio > 10 else "",
    )
