"""Air for the room: needed against available, louver, warming over outdoors."""

from __future__ import annotations

from dataclasses import replace

from wizard.both_units import both
from wizard.calc.accepted import one_of, within
from wizard.calc.louver import louver_free_area, louver_gross_area, louver_velocity
from wizard.calc.ventilation import (
    BALANCE,
    cooling_air,
    input_from_shaft,
    room_air,
    room_heat,
    room_rise,
    ventilation_air_density,
)
from wizard.checks.rule import check
from wizard.errors import InputError
from wizard.finding import Finding, Limit, Severity, Verdict
from wizard.formula import work
from wizard.kinds import Area, Flow, Length, Power, Ratio, Temperature
from wizard.quantities import Quantity, at_least, at_most, to_si
from wizard.sources import OUR_JUDGEMENT

WARMING = 8.0
FACE_HIGH = to_si(500.0, "speed", "ft/min")
FACE_DESIGN = to_si(400.0, "speed", "ft/min")
POOR_MOTOR = 0.80
OPEN_BLADES = 0.75

COOKS = "The room becomes an oven: belts crack, oil burns, windings lose half their life."


@check(
    "Warming of the room over outdoors",
    severity=Severity.HANDOVER,
    source=OUR_JUDGEMENT,
    results={"rise": "temperature difference"},
)
def room_warming(room: Temperature, outdoor: Temperature) -> Finding:
    """The air at the machine is at most 8 K (15 °F) hotter than outdoors.

    Parameters
    ----------
    room : float
        Air at the machine, after it ran long enough to settle, -20 °C to 60 °C, [K]
    outdoor : float
        Air outdoors in the shade at the same hour, -50 °C to 60 °C, [K]
    """
    rise, step = work(room_rise, room=room, outdoor=outdoor)
    cool = at_most(rise, WARMING)
    return Finding(
        Verdict.PASS if cool else Verdict.FAIL,
        "The room stays close to the temperature outdoors."
        if cool
        else "The room is more than 8 K (14.4 °F) hotter than outdoors.",
        Severity.HANDOVER,
        Quantity(rise, "temperature difference"),
        Limit(None, WARMING, "temperature difference"),
        (step,),
        danger=COOKS,
        clears="" if cool else "Bring in more air low down and let hot air out high up.",
        results={"rise": rise},
    )


@check(
    "Air for the room",
    severity=Severity.HANDOVER,
    source=(BALANCE, OUR_JUDGEMENT),
    results={"needed": "flow", "heat": "power"},
)
def ventilation_air(
    shaft_power: Power,
    elevation: Length,
    room_limit: Temperature,
    outdoor: Temperature,
    available: Flow | None = None,
    efficiency: Ratio | None = None,
    share: Ratio = 1.0,
    intake: Flow = 0.0,
    intake_from: str = "the room",
) -> Finding:
    """Air that carries the machine's heat away, against what fan or louver gives.

    Parameters
    ----------
    shaft_power : float
        Rated motor power, [W]
    elevation : float
        Height of the site, -100 to 4000, [m]
    room_limit : float
        Hottest air wanted at the machine, -20 °C to 60 °C, [K]
    outdoor : float
        Hottest day outdoors, [K]
    available : float, optional
        Air measured or stated for fan or opening, [m3/s]
    efficiency : float, optional
        Motor efficiency; 80 % is taken where the plate gives none, [-]
    share : float, optional
        Part of the input that stays in the room, 0.85 to 1, [-]
    intake : float, optional
        Air the pump breathes, [m3/s]
    intake_from : str, optional
        the room or outdoors
    """
    one_of("intake_from", intake_from, ("the room", "outdoors"))
    if not room_limit > outdoor:
        cooler = "cooler than the room may be; no air flow cools below"
        raise InputError("outdoor", both(outdoor, "temperature"), cooler)
    rise = min(room_rise(room_limit, outdoor), WARMING)
    power, first = work(input_from_shaft, shaft=shaft_power, efficiency=efficiency or POOR_MOTOR)
    heat, second = work(room_heat, input_power=power, share=share)
    density, third = work(ventilation_air_density, elevation=elevation, temperature=room_limit)
    cooling, fourth = work(cooling_air, heat=heat, density=density, rise=rise)
    breathed = intake if intake_from == "the room" else 0.0
    needed, fifth = work(room_air, cooling=cooling, intake=breathed)
    finding = Finding(
        Verdict.INCONCLUSIVE,
        "The air that fan or opening gives is not known.",
        Severity.HANDOVER,
        Quantity(needed, "flow"),
        None,
        (first, second, third, fourth, fifth),
        danger=COOKS,
        clears="Measure it with an anemometer, or read the fan's plate.",
        results={"needed": needed, "heat": heat},
    )
    return finding if available is None else _air_verdict(finding, needed, available)


def _air_verdict(finding: Finding, needed: float, available: float) -> Finding:
    within("available", available, "flow", "m3/s", 0, 100)
    enough = at_least(available, needed)
    return replace(
        finding,
        verdict=Verdict.PASS if enough else Verdict.FAIL,
        text="The room gets the air it needs." if enough else "The room gets too little air.",
        value=Quantity(available, "flow"),
        limit=Limit(needed, None, "flow"),
        clears="" if enough else "Fit a larger fan or more opening, or duct the hot air out.",
    )


@check(
    "Air speed through the louver",
    severity=Severity.HANDOVER,
    source=OUR_JUDGEMENT,
    results={"velocity": "speed", "free_area": "area"},
)
def louver_area(flow: Flow, gross_area: Area, free_share: Ratio) -> Finding:
    """The air passes the blades no faster than 500 ft/min (2.5 m/s).

    Parameters
    ----------
    flow : float
        Air that must come through, [m3/s]
    gross_area : float
        Overall area of louver or opening, [m2]
    free_share : float
        Open over overall area: 1 for a bare opening, often 0.4 to 0.5 for a louver, [-]
    """
    velocity, first = work(louver_velocity, flow=flow, gross_area=gross_area, free_share=free_share)
    free, second = work(louver_free_area, flow=flow, velocity=FACE_DESIGN)
    _, third = work(louver_gross_area, free_area=free, free_share=free_share)
    slow = at_most(velocity, FACE_HIGH)
    return Finding(
        Verdict.PASS if slow else Verdict.FAIL,
        "The louver is large enough." if slow else "The louver is too small for the air.",
        Severity.HANDOVER,
        Quantity(velocity, "speed"),
        Limit(None, FACE_HIGH, "speed"),
        (first, second, third),
        danger=COOKS,
        clears="" if slow else "Make the opening larger; the working shows how large.",
        ask="Hardly any louver is that open; is it the share between the blades?"
        if OPEN_BLADES < free_share < 1
        else "",
        results={"velocity": velocity, "free_area": free},
    )
