"""Space in front of the panel, by the practice of the job: deep, wide and high enough."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from wizard.calc.accepted import one_of, within
from wizard.calc.working_space import OPPOSITES, panel_depth, volts_to_ground
from wizard.checks.rule import check
from wizard.finding import Finding, Limit, Severity, Verdict
from wizard.formula import Step, work
from wizard.kinds import Length, Voltage
from wizard.quantities import Quantity, at_least, to_si
from wizard.sources import OUR_JUDGEMENT, Source

PANEL_WIDTH = to_si(30.0, "length", "in")
PANEL_HEIGHT = to_si(78.0, "length", "in")
GANGWAY_WIDTH, GANGWAY_HEIGHT = 0.7, 2.0
PRACTICES = ("US", "IEC")
HIGHEST_WYE = {"US": 347.0, "IEC": 400.0}

SPACE = Source("29 CFR 1910.303 Table S-1, as NEC 110.26(A)(1)", "confirmed")
WIDTH = Source("OSHA interpretation of 28 May 1999, NEC 110.26(A)(2)", "confirmed")
HEIGHT = Source("NEC 110.26(A)(3)", "memory")
GANGWAY = Source("IEC 60364-7-729, gangway at least 700 mm wide and 2 m high", "memory")

WAITS = "Waits for what faces the panel across the working space."
WAITS_FOR_GROUND = "Waits for how the supply is grounded."
LEAST_VOLTS = 1.0
TRAPPED = "Somebody who must jump back from an arc has nowhere to go."
MOVE = "Move the panel, the machine or what stands there; keep the space marked and empty."


@check(
    "Volts to ground of the supply",
    severity=Severity.ADVISORY,
    source=Source("phasor diagram of the supply", "computed"),
    results={"to_ground": "voltage"},
)
def supply_to_ground(line_voltage: Voltage, system: str) -> Finding:
    """The voltage that counts for working space: to ground, not between lines.

    Parameters
    ----------
    line_voltage : float
        Nominal voltage between lines, 100 to 600, [V]
    system : str
        How the supply is grounded
    """
    volts, step = work(volts_to_ground, line_voltage=line_voltage, system=system)
    return Finding(
        Verdict.PASS,
        "Voltage to ground for the working space.",
        Severity.ADVISORY,
        Quantity(volts, "voltage"),
        None,
        (step,),
        results={"to_ground": volts},
    )


@check(
    "Working space in front of the panel",
    severity=Severity.SAFETY,
    source=(SPACE, GANGWAY),
)
def panel_working_space(
    depth: Length,
    to_ground: Voltage | None = None,
    opposite: str | None = None,
    practice: str = "US",
) -> Finding:
    """Clear depth in front of parts that may be tested live.

    By US practice it goes by the voltage and by what stands opposite; by IEC practice it is the
    gangway of 700 mm whatever stands there, and national rules may ask for more.

    Parameters
    ----------
    depth : float
        From the front of the panel to what stands opposite, 0 to 30, [m]
    to_ground : float, optional
        Voltage to ground, not between lines, 1 to 600; US practice wants it, [V]
    opposite : str, optional
        nothing, grounded (concrete, brick or tile counts) or live; US practice wants it
    practice : str, optional
        US or IEC
    """
    within("depth", depth, "length", "mm", 0, 30_000)
    volts = LEAST_VOLTS if to_ground is None else to_ground
    within("to_ground", volts, "voltage", "V", LEAST_VOLTS, 600)
    one_of("practice", practice, PRACTICES)
    if opposite is not None:
        one_of("opposite", opposite, OPPOSITES)
    needed, steps = GANGWAY_WIDTH, list[Step]()
    if practice == "US":
        least = opposite or OPPOSITES[0]
        needed, step = work(panel_depth, to_ground=volts, opposite=least)
        steps.append(step)
    ask = ""
    if volts > HIGHEST_WYE[practice]:
        ask = "Only a delta without grounded neutral has that much to ground; volts between lines?"
    finding = _space(depth, needed, "depth", _source(practice, SPACE))
    finding = replace(finding, working=tuple(steps), ask=ask)
    if practice == "US" and None in (to_ground, opposite) and finding.verdict is Verdict.PASS:
        text = WAITS if opposite is None else WAITS_FOR_GROUND
        return replace(finding, verdict=Verdict.OPEN, text=text, limit=None, working=())
    return finding


def _source(practice: str, american: Source) -> tuple[Source, ...]:
    return (american,) if practice == "US" else (GANGWAY,)


def _space(depth: float, needed: float, name: str, sources: Sequence[Source]) -> Finding:
    enough = at_least(depth, needed)
    return Finding(
        Verdict.PASS if enough else Verdict.FAIL,
        f"The clear {name} in front of the panel is enough."
        if enough
        else f"The clear {name} in front of the panel is too small.",
        Severity.SAFETY,
        Quantity(depth, "length"),
        Limit(needed, None, "length"),
        danger=TRAPPED,
        clears="" if enough else MOVE,
        sources=tuple(sources),
    )


@check(
    "Width of the working space",
    severity=Severity.SAFETY,
    source=(WIDTH, GANGWAY, OUR_JUDGEMENT),
)
def panel_width(
    width: Length, equipment_width: Length | None = None, practice: str = "US"
) -> Finding:
    """As wide as the panel, and at least 30 in (762 mm), by IEC practice 700 mm, doors to 90°.

    Parameters
    ----------
    width : float
        Clear width in front of the panel, 0 to 30, [m]
    equipment_width : float, optional
        Width of the panel, 0.05 to 5, [m]
    practice : str, optional
        US or IEC
    """
    within("width", width, "length", "mm", 0, 30_000)
    if equipment_width is not None:
        within("equipment_width", equipment_width, "length", "mm", 50, 5000)
    one_of("practice", practice, PRACTICES)
    least = PANEL_WIDTH if practice == "US" else GANGWAY_WIDTH
    sources = (WIDTH,) if practice == "US" else (GANGWAY, OUR_JUDGEMENT)
    return _space(width, max(least, equipment_width or 0.0), "width", sources)


@check(
    "Headroom of the working space",
    severity=Severity.SAFETY,
    source=(HEIGHT, GANGWAY),
)
def panel_headroom(
    height: Length, equipment_height: Length | None = None, practice: str = "US"
) -> Finding:
    """As high as the panel's top, and at least 6 1/2 ft (1.98 m), by IEC practice 2 m.

    Parameters
    ----------
    height : float
        Clear height in front of the panel, 0 to 30, [m]
    equipment_height : float, optional
        Top of the panel above the floor, 0.2 to 5, [m]
    practice : str, optional
        US or IEC
    """
    within("height", height, "length", "mm", 0, 30_000)
    if equipment_height is not None:
        within("equipment_height", equipment_height, "length", "mm", 200, 5000)
    one_of("practice", practice, PRACTICES)
    least = PANEL_HEIGHT if practice == "US" else GANGWAY_HEIGHT
    needed = max(least, equipment_height or 0.0)
    return _space(height, needed, "height", _source(practice, HEIGHT))
