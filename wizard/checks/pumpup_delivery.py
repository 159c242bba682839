"""Free air from a pump-up run, brought to rated pressure and speed, with its uncertainty.

Invariant: without an honest tank temperature, or a settled pressure, nothing is passed or failed.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

from wizard.both_units import both
from wizard.calc.acceptance import flow_at_rated_pressure
from wizard.calc.accepted import above_zero
from wizard.calc.air_state import absolute_pressure
from wizard.calc.displacement import measured_efficiency
from wizard.calc.gas import STANDARD_PRESSURE
from wizard.calc.pumpup import (
    SPEED_RANGE,
    pumpup_flow_simple,
    pumpup_flow_warm,
    settled_without_leak,
    speed_corrected_flow,
)
from wizard.calc.rating import rated_intake_flow
from wizard.calc.series import Points, duration, gap_note, line
from wizard.calc.uncertainty import (
    FlowUncertainty,
    dominant,
    gauge_uncertainty,
    pumpup_uncertainty,
)
from wizard.checks.delivery import DECISION, decide, unjudged
from wizard.checks.pumpup import Rating, closed_volume, laps_of, too_short, unusual_tank
from wizard.checks.rule import check
from wizard.errors import InputError
from wizard.finding import Finding, Severity, Verdict
from wizard.formula import Step, work
from wizard.kinds import (
    AbsolutePressure,
    Flow,
    GaugePressure,
    Ratio,
    RotationalSpeed,
    Temperature,
    TemperatureDifference,
    Volume,
)
from wizard.quantities import at_most

HOT_TANK = 80.0
GAUGE_CLASS = 0.03
"""Assumed of an unmarked panel gauge: grade B."""
SCALE_OVER_READING = 1.5
SHELL_DOUBT, SETTLED_DOUBT = 3.0, 0.5
MODEL_SHARE = 0.25
"""Standard uncertainty of the step to rated pressure, as a share of that step: the clearance may
be anything from 3 to 7 % where 5 % is taken."""


@dataclass(frozen=True)
class Run:
    """One pump-up in absolute pressures, with the method that makes its temperature honest."""

    volume: float
    start: float
    end: float
    start_temperature: float
    end_temperature: float
    time: float
    scatter: float
    settled: bool


@dataclass(frozen=True)
class Known:
    """What is known of gauge, tank and thermometer; None is assumed and said so."""

    gauge_class: float | None
    full_scale: float | None
    volume: float | None
    temperature: float | None

    def assumed(self) -> str:
        """Which uncertainties were assumed, as a sentence."""
        names = {
            "gauge class": self.gauge_class,
            "full scale": self.full_scale,
            "tank volume": self.volume,
        }
        missing = [name for name, value in names.items() if value is None]
        return f" Assumed: {', '.join(missing)}." if missing else ""


@check(
    "Delivery by pump-up against the rating",
    severity=Severity.HANDOVER,
    source=DECISION,
    results={"flow": "flow", "uncertainty": "ratio", "rated": "flow"},
)
def pumpup_delivery(
    laps: tuple[tuple[float, float], ...],
    volume: Volume,
    intake_temperature: Temperature,
    rated_flow: Flow,
    stages: str,
    rated_pressure: GaugePressure | None = None,
    flow_reference: str | None = None,
    ambient: AbsolutePressure = STANDARD_PRESSURE,
    extra_volume: Volume | None = None,
    start_temperature: Temperature | None = None,
    end_temperature: Temperature | None = None,
    settled: GaugePressure | None = None,
    settled_again: GaugePressure | None = None,
    settled_temperature: Temperature | None = None,
    measured_speed: RotationalSpeed | None = None,
    rated_speed: RotationalSpeed | None = None,
    displacement: Flow | None = None,
    gauge_class: Ratio | None = None,
    gauge_full_scale: GaugePressure | None = None,
    volume_uncertainty: Ratio | None = None,
    temperature_uncertainty: TemperatureDifference | None = None,
) -> Finding:
    """Free air from a pump-up, brought to rated pressure and speed, against the rating.

    Parameters
    ----------
    laps : tuple of (float, float)
        Time and gauge pressure from start to end, [s], [Pa]
    volume : float
        Receiver volume, [m3]
    intake_temperature : float
        Air temperature at the intake, [K]
    rated_flow : float
        Rated flow, [m3/s]
    stages : str
        one or two
    rated_pressure : float, optional
        Gauge pressure of the rating; without it nothing can be judged, [Pa]
    flow_reference : str, optional
        Reference condition of the rating; without it nothing can be judged
    ambient : float, optional
        Air pressure at the machine, [Pa]
    extra_volume : float, optional
        Pipes, hoses and coolers up to the closed valve, [m3]
    start_temperature : float, optional
        Tank air at the start, [K]
    end_temperature : float, optional
        Tank air at the end, [K]
    settled : float, optional
        Gauge pressure once the tank is within 2 K of its start, [Pa]
    settled_again : float, optional
        Gauge pressure after the same wait again, [Pa]
    settled_temperature : float, optional
        Tank temperature with the settled pressure, [K]
    measured_speed : float, optional
        Pump speed during the run, [r/s]
    rated_speed : float, optional
        Pump speed of the rating, [r/s]
    displacement : float, optional
        Piston displacement at the measured speed, [m3/s]
    gauge_class : float, optional
        Accuracy of the gauge, share of full scale, [-]
    gauge_full_scale : float, optional
        Top of the dial, [Pa]
    volume_uncertainty : float, optional
        Standard uncertainty of the volume, share of it, [-]
    temperature_uncertainty : float, optional
        Standard uncertainty of the tank temperature, [K]
    """
    laps = laps_of(laps)
    total = closed_volume(volume, extra_volume)
    run = _run(laps, total, ambient, start_temperature, end_temperature, settled, settled_again)
    if problem := too_short(laps[-1][1] - laps[0][1], duration(laps)):
        return unjudged(f"{problem} Too small a run to judge by.", None, ())
    if run is None:
        return _indicative(laps, total, ambient)
    if run.settled and abs((settled_temperature or run.end_temperature) - run.end_temperature) > 2:
        said = "The tank was not within 2 K of its start when the settled pressure was read."
        return unjudged(said, None, ())
    flow, step = _flow(run, ambient, intake_temperature)
    if rated_pressure is None or flow_reference is None:
        said = "The rating does not say at which pressure and reference condition."
        return unjudged(said, flow, (step,))
    known = Known(gauge_class, gauge_full_scale, volume_uncertainty, temperature_uncertainty)
    rating = Rating(rated_flow, rated_pressure, flow_reference, stages, ambient)
    at_rated, doubt, steps = _at_rated_pressure(run, known, laps, rating, flow, intake_temperature)
    steps = (step, *steps)
    corrected = _at_rated_speed(at_rated, measured_speed, rated_speed)
    if corrected is None:
        said = "The pump speed is more than 5 % from its rating; the flow cannot be compared."
        return unjudged(said, at_rated, steps)
    efficiency = None if displacement is None else measured_efficiency(at_rated, displacement)
    rated, last = work(rated_intake_flow, rated_flow=rated_flow, reference=flow_reference)
    found = decide(rated, corrected, corrected * doubt.expanded, dominant(doubt), efficiency)
    return _finished(
        found,
        (*steps, last),
        at_rated,
        f"{gap_note(laps)}{known.assumed()}",
        unusual_tank(total, laps[-1][1]) or _hot(run, intake_temperature),
        unleaked=run.settled and settled_again is None,
    )


def _indicative(laps: Points, volume: float, ambient: float) -> Finding:
    """The simple form, which warm tank air makes too high."""
    simple, step = work(
        pumpup_flow_simple,
        volume=volume,
        start=absolute_pressure(laps[0][1], ambient),
        end=absolute_pressure(laps[-1][1], ambient),
        time=duration(laps),
        ambient=ambient,
    )
    said = "The tank temperature is not known, so this is indicative and too high."
    return unjudged(said, simple, (step,))


def _at_rated_pressure(
    run: Run, known: Known, laps: Points, rating: Rating, flow: float, intake_temperature: float
) -> tuple[float, FlowUncertainty, tuple[Step, ...]]:
    """The average flow of the run as it would be at rated pressure, and its uncertainty."""
    low, high = (absolute_pressure(lap[1], rating.ambient) for lap in (laps[0], laps[-1]))
    falling, constant, _ = rating.times(run.volume, low, high)
    at_rated, first = work(
        flow_at_rated_pressure, average_flow=flow, falling_time=falling, constant_time=constant
    )
    to_rated = falling / constant
    doubt, second = _uncertainty(run, known, laps, rating.ambient, intake_temperature, to_rated)
    return at_rated, doubt, (first, second)


def _run(
    laps: Points,
    volume: float,
    ambient: float,
    cold: float | None,
    warm: float | None,
    settled: float | None,
    settled_again: float | None,
) -> Run | None:
    """The run with its temperatures; None when they are not known.

    With laps the line is fitted through pressure over temperature, the temperature taken to rise
    evenly, so that what is fitted is the mass of air in the tank.
    """
    time = duration(laps)
    low = absolute_pressure(laps[0][1], ambient)
    if cold is None:
        return None
    if settled is not None:
        above_zero("settled", settled, "gauge pressure")
        if settled > laps[-1][1]:
            raise InputError(
                "settled",
                both(settled, "gauge pressure"),
                f"at most the end of the run, {both(laps[-1][1], 'gauge pressure')}",
            )
        end = absolute_pressure(settled, ambient)
        if settled_again is not None:
            end = settled_without_leak(end, absolute_pressure(settled_again, ambient))
        return Run(volume, low, end, cold, cold, time, 0.0, True)
    if warm is None:
        return None
    rise = (warm - cold) / time
    mass = tuple(
        (t, absolute_pressure(p, ambient) / (cold + rise * (t - laps[0][0]))) for t, p in laps
    )
    fit = line(mass)
    scatter = fit.slope_error / fit.slope if fit.slope > 0 else 0.0
    return Run(volume, fit.start * cold, fit.end * warm, cold, warm, time, scatter, False)


def _flow(run: Run, ambient: float, intake_temperature: float) -> tuple[float, Step]:
    return work(
        pumpup_flow_warm,
        volume=run.volume,
        start=run.start,
        end=run.end,
        start_temperature=run.start_temperature,
        end_temperature=run.end_temperature,
        time=run.time,
        ambient=ambient,
        intake_temperature=intake_temperature,
    )


def _uncertainty(
    run: Run,
    known: Known,
    laps: Points,
    ambient: float,
    intake_temperature: float,
    to_rated: float,
) -> tuple[FlowUncertainty, Step]:
    above_zero("gauge full scale", known.full_scale, "gauge pressure")
    scale = known.full_scale or SCALE_OVER_READING * laps[-1][1]
    accuracy = GAUGE_CLASS if known.gauge_class is None else known.gauge_class
    usual = SETTLED_DOUBT if run.settled else SHELL_DOUBT
    return work(
        pumpup_uncertainty,
        start=run.start,
        end=run.end,
        start_temperature=run.start_temperature,
        end_temperature=run.end_temperature,
        time=run.time,
        ambient=ambient,
        intake_temperature=intake_temperature,
        pressure_uncertainty=gauge_uncertainty(accuracy, scale),
        volume_uncertainty=0.01 if known.volume is None else known.volume,
        temperature_uncertainty=usual if known.temperature is None else known.temperature,
        scatter=run.scatter,
        model=MODEL_SHARE * abs(1 - to_rated),
    )


def _at_rated_speed(flow: float, measured: float | None, rated: float | None) -> float | None:
    """The flow at rated speed; None when the speeds are too far apart to compare."""
    if measured is None or rated is None:
        return flow
    above_zero("measured speed", measured, "rotational speed")
    above_zero("rated speed", rated, "rotational speed")
    if not at_most(abs(measured / rated - 1), SPEED_RANGE):
        return None
    return speed_corrected_flow(flow, measured, rated)


def _hot(run: Run, intake_temperature: float) -> str:
    if run.end_temperature > intake_temperature + HOT_TANK:
        return "Is that the tank? The discharge pipe is as hot as this, a tank is not."
    return ""


def _finished(
    found: Finding, steps: tuple[Step, ...], flow: float, note: str, ask: str, unleaked: bool
) -> Finding:
    """The finding with its working; a shortage that a leak would explain is not yet one."""
    found = replace(
        found,
        working=(*steps, *found.working),
        text=f"{found.text}{note}",
        ask=ask,
        results={**found.results, "flow": flow},
    )
    if found.verdict is Verdict.FAIL and unleaked and flow < found.results["rated"]:
        return replace(
            found,
            verdict=Verdict.INCONCLUSIVE,
            text=f"{found.text} A leak while the tank settled would look the same.",
            clears="Read the pressure again after the same wait, so that the leak can be taken "
            "out.",
        )
    return found
