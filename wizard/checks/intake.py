"""Intake: what the filter costs, whether a remote pipe is wide enough and keeps quiet."""

from __future__ import annotations

from wizard.calc.accepted import above_zero, one_of, within, zero_or_above
from wizard.calc.intake import ACOUSTICS, IDEAL_GAS, intake_flow_loss, resonant_length
from wizard.checks.rule import check
from wizard.finding import Finding, Limit, Severity, Verdict
from wizard.formula import work
from wizard.kinds import (
    AbsolutePressure,
    Length,
    PressureDifference,
    RotationalSpeed,
    Temperature,
)
from wizard.quantities import Quantity, at_least, at_most
from wizard.sources import COMMON_PRACTICE, Source

INCH_WATER = 249.0889
NEW_MOST, RISE, MOST = 5 * INCH_WATER, 10 * INCH_WATER, 15 * INCH_WATER
UNLIKELY = 60 * INCH_WATER
ELEMENTS = ("new", "in use")
DETUNE = 0.20
SHORTEST = 0.5
PIPE_WARNING = Source(
    "TM 5-810-4 warns of resonant lengths, for the discharge pipe; 20 % is common practice",
    "confirmed",
)


@check(
    "Intake restriction",
    severity=Severity.HANDOVER,
    source=(COMMON_PRACTICE, IDEAL_GAS),
    results={"flow_loss": "ratio"},
)
def filter_restriction(
    restriction: PressureDifference,
    ambient: AbsolutePressure,
    element: str = "new",
    clean: PressureDifference | None = None,
) -> Finding:
    """At most 5 in of water with a new element; 15 in, or 10 in over clean, means change it.

    Parameters
    ----------
    restriction : float
        Drop from outside to the pump inlet, loaded, [Pa]
    ambient : float
        Air pressure around the machine, absolute, [Pa]
    element : str, optional
        "new" or "in use"
    clean : float, optional
        Restriction when the element was clean, [Pa]
    """
    one_of("element", element, ELEMENTS)
    within("air pressure", ambient, "absolute pressure", "kPa(a)", 50, 115)
    loss, step = work(intake_flow_loss, restriction=restriction, ambient=ambient)
    most = MOST
    if clean is not None:
        zero_or_above("restriction when clean", clean, "pressure difference", "inH2O")
        most = min(MOST, clean + RISE)
    verdict, text, clears = Verdict.PASS, "The filter breathes freely.", ""
    if not at_most(restriction, most):
        verdict, text = Verdict.FAIL, "The intake is choked."
        clears = "Renew the element; look for paint, a rag, a plug or too small a pipe."
    elif element == "new" and not at_most(restriction, NEW_MOST):
        verdict, text = Verdict.ADVISORY, "The intake is tighter than a new one should be."
        clears = "Look for a cover left on, a wrong element or too small a pipe."
    return Finding(
        verdict,
        f"{text} It costs {100 * loss:.1f} % of the air.",
        Severity.ADVISORY if verdict is Verdict.ADVISORY else Severity.HANDOVER,
        Quantity(restriction, "pressure difference"),
        Limit(None, most, "pressure difference"),
        (step,),
        danger="A choked filter costs air and can collapse, and then dirt scores the cylinders.",
        clears=clears,
        ask="Is the restriction in that unit? More than 60 in of water is unlikely."
        if restriction > UNLIKELY
        else "",
        results={"flow_loss": loss},
    )


@check("Remote intake bore", severity=Severity.ADVISORY, source=COMMON_PRACTICE)
def intake_bore(bore: Length, port: Length) -> Finding:
    """A remote intake pipe at least as wide as the port of the pump.

    Parameters
    ----------
    bore : float
        Inside diameter of the pipe at its narrowest, [m]
    port : float
        Inside diameter of the pump's intake port, [m]
    """
    above_zero("bore", bore, "length", "mm")
    above_zero("port", port, "length", "mm")
    wide = at_least(bore, port)
    return Finding(
        Verdict.PASS if wide else Verdict.ADVISORY,
        "The pipe is as wide as the port."
        if wide
        else f"The pipe is {100 * (1 - bore / port):.0f} % narrower than the port.",
        Severity.ADVISORY,
        Quantity(bore, "length"),
        Limit(port, None, "length"),
        danger="A narrow pipe starves the pump, which then runs hot.",
        clears="" if wide else "Fit a pipe of the port size or larger.",
    )


@check("Remote intake resonance", severity=Severity.ADVISORY, source=(PIPE_WARNING, ACOUSTICS))
def intake_resonance(
    length: Length,
    speed: RotationalSpeed,
    strokes: int,
    temperature: Temperature,
    coldest: Temperature | None = None,
) -> Finding:
    """A remote intake more than 20 % away from every odd quarter wave of the suction strokes.

    Parameters
    ----------
    length : float
        Developed length of the pipe, [m]
    speed : float
        Pump speed, [r/s]
    strokes : int
        Suction strokes per turn: one for each first-stage cylinder, [-]
    temperature : float
        Warmest intake air, [K]
    coldest : float, optional
        Coldest intake air, if the whole range is to be judged, [K]
    """
    above_zero("length", length, "length", "m")
    if not length > SHORTEST:
        return Finding(
            Verdict.NOT_APPLICABLE,
            "The pipe is too short to resonate.",
            Severity.ADVISORY,
            Quantity(length, "length"),
        )
    ends = (temperature, temperature if coldest is None else coldest)
    first = min(resonant_length(t, speed, strokes) for t in ends)
    longest = max(resonant_length(t, speed, strokes) for t in ends)
    odd = _nearest_odd(length, first, longest)
    _, step = work(resonant_length, temperature=temperature, speed=speed, strokes=strokes, odd=odd)
    low, high = (1 - DETUNE) * odd * first, (1 + DETUNE) * odd * longest
    clear = not (at_least(length, low) and at_most(length, high))
    return Finding(
        Verdict.PASS if clear else Verdict.ADVISORY,
        "The pipe is clear of its resonant lengths."
        if clear
        else f"The pipe is within 20 % of {odd} quarter wave{'s' if odd > 1 else ''}.",
        Severity.ADVISORY,
        Quantity(length, "length"),
        None if clear else Limit(None, (1 - DETUNE) * first, "length"),
        (step,),
        danger="A pipe of that length pulses like an organ pipe, shakes the valves, loses flow.",
        clears="" if clear else "Make the pipe shorter, well below the first quarter wave.",
    )


def _nearest_odd(length: Length, first: Length, longest: Length) -> int:
    """The odd number of quarter waves whose band is nearest to the length, by ratio."""
    below = int(length / longest)
    near = [n for n in range(max(1, below - 2), below + 5) if n % 2]
    return min(
        near,
        key=lambda odd: max(odd * first / length, length / (odd * longest), 1.0),
    )
