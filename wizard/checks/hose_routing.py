"""How a hose lies: bend, straight end, length for movement, and what holds it if it breaks."""

from __future__ import annotations

from dataclasses import replace

from wizard.calc.accepted import above_zero, inside, one_of
from wizard.calc.hose import hose_live_length
from wizard.checks.hose import WHIP
from wizard.checks.rule import check
from wizard.finding import Finding, Limit, Severity, Verdict
from wizard.formula import work
from wizard.kinds import Length
from wizard.quantities import Quantity, at_least, at_most
from wizard.sources import COMMON_PRACTICE, Source

FATIGUE = "A hose bent too tight or pulled straight breaks at the end collar without warning."


@check("Bend of the hose", severity=Severity.HANDOVER, source=COMMON_PRACTICE)
def hose_bend(
    bend_radius: Length,
    least_radius: Length,
    straight_end: Length | None = None,
    outside_diameter: Length | None = None,
) -> Finding:
    """Inside radius at or above the marked least; two diameters straight before the first bend.

    Parameters
    ----------
    bend_radius : float
        Inside radius of the tightest bend, [m]
    least_radius : float
        Least radius marked or in the data sheet; the dynamic one at the pump, [m]
    straight_end : float, optional
        Straight length between fitting and first bend, [m]
    outside_diameter : float, optional
        Outside diameter of the hose, [m]
    """
    above_zero("bend radius", bend_radius, "length")
    above_zero("least radius", least_radius, "length")
    inside("straight end", straight_end, "length", "mm", 0, 100_000)
    above_zero("outside diameter", outside_diameter, "length")
    passed = Finding(
        Verdict.PASS,
        "The bend is no tighter than the hose allows.",
        Severity.HANDOVER,
        Quantity(bend_radius, "length"),
        Limit(least_radius, None, "length"),
        danger=FATIGUE,
    )
    if not at_least(bend_radius, least_radius):
        return replace(
            passed,
            verdict=Verdict.FAIL,
            text="The bend is tighter than the hose allows.",
            clears="Fit a longer hose or an elbow before any pressure.",
        )
    if straight_end is None or outside_diameter is None:
        return passed
    if not at_least(straight_end, 2.0 * outside_diameter):
        return replace(
            passed,
            verdict=Verdict.FAIL,
            text="The first bend starts less than two hose diameters from the fitting.",
            value=Quantity(straight_end, "length"),
            limit=Limit(2.0 * outside_diameter, None, "length"),
            clears="Reroute it so that the end runs straight for two diameters.",
        )
    return passed


@check(
    "Length of a metal hose for its movement",
    severity=Severity.HANDOVER,
    source=Source("geometry of corrugated hose, common to hose tables", "memory"),
    results={"least": "length"},
)
def hose_length(live_length: Length, least_radius: Length, movement: Length) -> Finding:
    """The flexible part is long enough for the pump to move on its mounts.

    Parameters
    ----------
    live_length : float
        Flexible length without the fittings, [m]
    least_radius : float
        Least bend radius of the hose, [m]
    movement : float
        Total sideways travel of the pump end, [m]
    """
    above_zero("live length", live_length, "length")
    above_zero("least radius", least_radius, "length")
    inside("movement", movement, "length", "mm", 0, 1000)
    least, step = work(hose_live_length, bend_radius=least_radius, offset=movement)
    sound = at_least(live_length, least)
    return Finding(
        Verdict.PASS if sound else Verdict.FAIL,
        "The hose is long enough for the movement."
        if sound
        else "The hose is too short for the movement.",
        Severity.HANDOVER,
        Quantity(live_length, "length"),
        Limit(least, None, "length"),
        (step,),
        danger=FATIGUE,
        clears="" if sound else "Fit a longer hose, with slack at both ends of the travel.",
        results={"least": least},
    )


RESTRAINTS = (
    "shut-off device and cable",
    "shut-off device only",
    "cable or chain only",
    "none",
)
SHUT_OFF_ABOVE = 0.0127
CHAIN_FROM = 0.0254
MINE_CHAIN_FROM = 0.01905


@check(
    "What holds a hose that breaks",
    severity=Severity.HANDOVER,
    source=(
        Source("29 CFR 1926.302(b)(7): shut-off device above 1/2 in bore, tools", "confirmed"),
        Source("30 CFR 77.412(d): chains or locks from 1 in", "confirmed"),
        Source("30 CFR 57.13021: mines, from 3/4 in", "memory"),
    ),
)
def hose_whip(bore: Length, feeds_tools: str, jurisdiction: str, restraint: str) -> Finding:
    """Above half an inch of bore a device shuts the air; from one inch a chain holds the end.

    Parameters
    ----------
    bore : float
        Inside bore, measured, not the thread size, [m]
    feeds_tools : str
        yes or no
    jurisdiction : str
        United States, European Union, United Kingdom, other
    restraint : str
        shut-off device and cable, shut-off device only, cable or chain only, none
    """
    one_of("feeds tools", feeds_tools, ("yes", "no"))
    one_of("restraint", restraint, RESTRAINTS)
    inside("inside bore", bore, "length", "mm", 2, 200)
    device = feeds_tools == "yes" and not at_most(bore, SHUT_OFF_ABOVE)
    chain = at_least(bore, CHAIN_FROM)
    missing = []
    if device and restraint not in RESTRAINTS[:2]:
        missing.append("a shut-off device at the source or branch")
    if chain and restraint not in (RESTRAINTS[0], RESTRAINTS[2]):
        missing.append("a cable or chain across the joints")
    passed = Finding(
        Verdict.PASS,
        "The hose has what its bore asks for."
        if device or chain
        else "This bore needs no shut-off device by rule.",
        Severity.HANDOVER,
        Quantity(bore, "length"),
        danger=WHIP,
    )
    if missing:
        law = jurisdiction == "United States"
        return replace(
            passed,
            verdict=Verdict.FAIL if law else Verdict.ADVISORY,
            severity=Severity.HANDOVER if law else Severity.ADVISORY,
            text=f"The hose lacks {' and '.join(missing)}.",
            clears="Fit it, sized so that normal tool flow does not trip it, and try it out.",
        )
    if restraint == "none" and at_least(bore, MINE_CHAIN_FROM):
        return replace(
            passed,
            verdict=Verdict.ADVISORY,
            severity=Severity.ADVISORY,
            text="Mines ask for a chain from this bore; fit one where people work near.",
        )
    return passed
