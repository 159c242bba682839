"""Relief capacity against what the compressor can deliver, and whether the stamp can be true.

Invariant: two flows are compared only at one reference condition.
"""

from __future__ import annotations

from wizard.calc.accepted import above_zero, inside
from wizard.calc.air_state import AirState, flow_state, reference_flow, standard_atmosphere
from wizard.calc.gas import STANDARD_PRESSURE
from wizard.calc.relief import (
    delivery_at_speed,
    flow_of_air_mass,
    relief_margin,
    relieving_pressure,
)
from wizard.calc.relief_orifice import API_520, orifice_capacity
from wizard.checks.relief import BURST
from wizard.checks.rule import check
from wizard.checks.unusual import unusual_pressure
from wizard.errors import InputError
from wizard.finding import Finding, Limit, Severity, Verdict
from wizard.formula import Step, work
from wizard.kinds import (
    AbsolutePressure,
    Area,
    Flow,
    GaugePressure,
    Length,
    MassFlow,
    RotationalSpeed,
    Temperature,
)
from wizard.quantities import Quantity, at_least, at_most
from wizard.sources import OUR_JUDGEMENT, Source

CAPACITY_LAW = Source(
    "30 CFR 57.13011 and 29 CFR 1917.155(b)(1): relieving capacity keeps the pressure within 10 %",
    "confirmed",
)
FREE_AIR = "free air at the intake"
ISO_STATE = "ISO 1217: 1 bar, 20 °C, dry"
US_STATE = "US: 14.696 psia, 60 °F, dry"
MASS_STATE = AirState(STANDARD_PRESSURE, 288.15, 0.0)
STAMP_SHARE = 0.90 * 0.975
"""Code derating times the effective discharge coefficient of a sound valve."""


def convert(flow: float, before: AirState, after: AirState) -> tuple[float, Step]:
    """A flow at another condition, with its working."""
    return work(
        reference_flow,
        actual_flow=flow,
        pressure=before.pressure,
        temperature=before.temperature,
        humidity=before.humidity,
        reference_pressure=after.pressure,
        reference_temperature=after.temperature,
        reference_humidity=after.humidity,
    )


def _intake_volume(
    delivery: float,
    delivery_reference: str,
    speeds: tuple[float | None, float | None],
) -> tuple[float, tuple[Step, ...]]:
    """The largest volume of air that the pump can take in."""
    steps: tuple[Step, ...] = ()
    volume = delivery
    if delivery_reference != FREE_AIR:
        at_iso, step = convert(delivery, flow_state(delivery_reference), flow_state(ISO_STATE))
        if at_iso > volume:
            volume, steps = at_iso, (step,)
    rated, highest = speeds
    if rated is not None and highest is not None and highest > rated:
        volume, step = work(
            delivery_at_speed, rated_flow=volume, rated_speed=rated, highest_speed=highest
        )
        steps = (*steps, step)
    return volume, steps


@check(
    "Relief capacity against compressor output",
    severity=Severity.SAFETY,
    source=(CAPACITY_LAW, OUR_JUDGEMENT),
    results={"required": "flow", "margin": "ratio"},
)
def relief_capacity(
    delivery: Flow,
    coldest_intake: Temperature,
    certified: Flow | None = None,
    certified_reference: str = US_STATE,
    certified_mass: MassFlow | None = None,
    delivery_reference: str = FREE_AIR,
    rated_speed: RotationalSpeed | None = None,
    highest_speed: RotationalSpeed | None = None,
    elevation: Length | None = None,
    intake_pressure: AbsolutePressure | None = None,
    other_valves: Flow | None = None,
) -> Finding:
    """The stamped capacity is at least what the pump can deliver in cold, dry, dense air.

    Parameters
    ----------
    delivery : float
        Rated free air delivered; the displacement if only that is known, [m3/s]
    coldest_intake : float
        Lowest likely intake temperature, [K]
    certified : float, optional
        Stamped capacity as a volume, [m3/s]
    certified_reference : str, optional
        Condition of the stamp; US 60 °F unless it says otherwise
    certified_mass : float, optional
        Stamped capacity as mass of air, instead of a volume, [kg/s]
    delivery_reference : str, optional
        Condition of the rated delivery
    rated_speed : float, optional
        Pump speed of the rating, [r/s]
    highest_speed : float, optional
        Highest pump speed, [r/s]
    elevation : float, optional
        Height of the site; sea level if not given, [m]
    intake_pressure : float, optional
        Air pressure at the intake instead of the one for the elevation, [Pa]
    other_valves : float, optional
        Sum of further valves, each set at or below the receiver's limit, same condition, [m3/s]
    """
    if (certified is None) == (certified_mass is None):
        raise InputError("stamped capacity", "none or two", "one, as a volume or as mass of air")
    above_zero("delivery", delivery, "flow")
    above_zero("stamped capacity", certified, "flow")
    above_zero("stamped capacity", certified_mass, "mass flow")
    above_zero("other valves", other_valves, "flow")
    inside("coldest intake", coldest_intake, "temperature", "°C", -50, 50)
    volume, steps = _intake_volume(delivery, delivery_reference, (rated_speed, highest_speed))
    if intake_pressure is None:
        intake_pressure = STANDARD_PRESSURE
        if elevation is not None:
            site, site_step = work(standard_atmosphere, elevation=elevation)
            intake_pressure, steps = site.pressure, (*steps, site_step)
    if certified_mass is not None:
        stamp, mass_step = work(flow_of_air_mass, mass_flow=certified_mass)
        state, steps = MASS_STATE, (*steps, mass_step)
    else:
        stamp, state = float(certified or 0.0), flow_state(certified_reference)
    stamp += other_valves or 0.0
    required, step = convert(volume, AirState(intake_pressure, coldest_intake, 0.0), state)
    margin, last = work(relief_margin, certified=stamp, required=required)
    return _capacity_finding(stamp, required, margin, (*steps, step, last))


def _capacity_finding(
    stamp: float, required: float, margin: float, working: tuple[Step, ...]
) -> Finding:
    verdict, severity = Verdict.PASS, Severity.SAFETY
    text = f"The relief valve can pass {margin:.4g} times what the pump can deliver."
    clears = ""
    if not at_least(margin, 1.0):
        verdict = Verdict.FAIL
        text = f"The relief valve can pass only {100 * margin:.4g} % of what the pump can deliver."
        clears = "Fit a valve with more certified capacity, set at or below the receiver's limit."
    elif not at_least(margin, 1.05):
        verdict, severity = Verdict.ADVISORY, Severity.ADVISORY
        text = f"The relief valve can pass just enough, {100 * (margin - 1):.2g} % over."
        clears = "Note it: a larger sheave or motor uses the rest up."
    return Finding(
        verdict,
        text,
        severity,
        Quantity(stamp, "flow"),
        Limit(required, None, "flow"),
        working,
        danger="Pressure climbs past the limit while the valve blows. " + BURST,
        clears=clears,
        ask="Is the unit of the stamp right? It is many times the pump's output."
        if margin > 20
        else "",
        results={"required": required, "margin": margin},
    )


@check(
    "Whether the stamped relief capacity can be true",
    severity=Severity.ADVISORY,
    source=(API_520, OUR_JUDGEMENT),
    results={"possible": "flow"},
)
def relief_orifice(
    certified: Flow,
    set_pressure: GaugePressure,
    area: Area | None = None,
    certified_reference: str = US_STATE,
    ambient: AbsolutePressure = STANDARD_PRESSURE,
    temperature: Temperature = 519.67 / 1.8,
) -> Finding:
    """A stamp far above what the hole can pass is doubtful. A missing stamp stays missing.

    Parameters
    ----------
    certified : float
        Stamped capacity, [m3/s]
    set_pressure : float
        Stamped set pressure, gauge, [Pa]
    area : float, optional
        Orifice area from the data sheet, never from the pipe thread, [m2]
    certified_reference : str, optional
        Condition of the stamp
    ambient : float, optional
        Air pressure at the outlet, [Pa]
    temperature : float, optional
        Relieving temperature, [K]
    """
    above_zero("stamped capacity", certified, "flow")
    above_zero("set pressure", set_pressure, "gauge pressure")
    above_zero("orifice area", area, "area")
    if area is None:
        return Finding(
            Verdict.NOT_APPLICABLE,
            "No orifice area is given, so the stamp is not compared with it.",
            Severity.ADVISORY,
        )
    at_us, converted = convert(certified, flow_state(certified_reference), flow_state(US_STATE))
    upstream, relieving = work(relieving_pressure, set_pressure=set_pressure, ambient=ambient)
    possible, passed = work(
        orifice_capacity,
        area=area,
        pressure=upstream,
        temperature=temperature,
        coefficient=STAMP_SHARE,
        back_pressure=ambient,
    )
    sound = at_most(at_us, 1.15 * possible)
    return Finding(
        Verdict.PASS if sound else Verdict.ADVISORY,
        "The stamp fits the size of the orifice."
        if sound
        else f"The stamp is {at_us / possible:.3g} times what the orifice can pass; doubtful.",
        Severity.ADVISORY,
        Quantity(at_us, "flow"),
        Limit(None, 1.15 * possible, "flow"),
        (converted, relieving, passed),
        danger="A swapped body or a false plate passes far less air than it promises.",
        clears=""
        if sound
        else "Check the data sheet and the maker's listing; replace if in doubt.",
        ask=unusual_pressure("set pressure", set_pressure),
        results={"possible": possible},
    )
