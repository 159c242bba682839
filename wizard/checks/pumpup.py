"""The pump-up run: how long it should take, how long it took, whether a second one agrees.

Invariant: the prediction is made for this site, so that height and heat do not look like faults.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

from wizard.both_units import both
from wizard.calc.accepted import above_zero, one_of, zero_or_above
from wizard.calc.air_state import absolute_pressure
from wizard.calc.gas import STANDARD_PRESSURE
from wizard.calc.pumpup import COOLING_REFUSED
from wizard.calc.pumpup_time import (
    pumpup_time_constant,
    pumpup_time_falling,
    pumpup_time_warm,
)
from wizard.calc.rating import rated_intake_flow, same_ratio_pressure
from wizard.calc.series import Points, checked, duration, gap_note, line
from wizard.calc.us_units import PSI
from wizard.checks.air_state import STAGES, percent
from wizard.checks.rule import check
from wizard.checks.unusual import unusual_pressure
from wizard.errors import InputError
from wizard.finding import Finding, Limit, Severity, Verdict
from wizard.formula import Step, work
from wizard.kinds import AbsolutePressure, Flow, GaugePressure, Ratio, Temperature, Volume
from wizard.quantities import Quantity, at_least, at_most
from wizard.sources import OUR_JUDGEMENT, Source

PREDICTION = Source("mass balance; clearance 5 %, re-expansion exponent 1.3", "computed")
LEAST_RISE = 20 * PSI
LEAST_TIME = 20.0
SAME_SPAN = 0.1
TANK_RANGE = (0.020, 2.0)
SLOW = "A pump that fills too slowly never rests: its valves, oil and motor cook."


@dataclass(frozen=True)
class Rating:
    """What the plate promises, and the site it is to be met at."""

    flow: float
    pressure: float
    reference: str
    stages: str
    ambient: float

    def times(self, volume: float, start: float, end: float) -> tuple[float, float, list[Step]]:
        """Predicted time with falling and with constant delivery, between absolute pressures."""
        one_of("stages", self.stages, tuple(STAGES))
        above_zero("rated pressure", self.pressure, "gauge pressure")
        flow, first = work(rated_intake_flow, rated_flow=self.flow, reference=self.reference)
        pressure, second = work(
            same_ratio_pressure, rated_pressure=self.pressure, ambient=self.ambient
        )
        falling, third = work(
            pumpup_time_falling,
            volume=volume,
            start=start,
            end=end,
            rated_flow=flow,
            rated_pressure=pressure,
            suction=self.ambient,
            ambient=self.ambient,
            stages=STAGES[self.stages],
        )
        constant = pumpup_time_constant(volume, start, end, flow, self.ambient)
        return falling, constant, [first, second, third]


def closed_volume(volume: float, extra: float | None) -> float:
    """Receiver and the pipes behind it."""
    above_zero("volume", volume, "volume")
    zero_or_above("extra volume", extra, "volume")
    return volume + (extra or 0.0)


def unusual_tank(volume: float, *pressures: float) -> str:
    """The question to put when volume or pressure is far from what such machines have."""
    if not TANK_RANGE[0] <= volume <= TANK_RANGE[1]:
        return "Is the closed volume right? Litres typed as gallons, or gallons as litres, show so."
    return unusual_pressure("tank pressure", *pressures)


def laps_of(series: Points) -> Points:
    """The laps of a pump-up; refused unless the gauge rises."""
    laps = checked("laps", series)
    start, end = laps[0][1], laps[-1][1]
    if not end > start:
        raise InputError(
            "laps",
            f"{both(end, 'gauge pressure')} at the end",
            f"more than at the start, {both(start, 'gauge pressure')}",
        )
    return laps


def too_short(rise: float, time: float) -> str:
    """Why a run is too small to judge by, or nothing."""
    if not at_least(rise, LEAST_RISE):
        return f"The pressure rose by less than {both(LEAST_RISE, 'pressure difference')}."
    return "" if at_least(time, LEAST_TIME) else "The run took less than 20 s."


@check(
    "Predicted pump-up time",
    severity=Severity.ADVISORY,
    source=PREDICTION,
    results={"predicted": "time"},
)
def pumpup_prediction(
    start: GaugePressure,
    end: GaugePressure,
    volume: Volume,
    rated_flow: Flow,
    rated_pressure: GaugePressure,
    flow_reference: str,
    stages: str,
    ambient: AbsolutePressure = STANDARD_PRESSURE,
    extra_volume: Volume | None = None,
) -> Finding:
    """What to expect before the start is pressed.

    Parameters
    ----------
    start : float
        Gauge pressure at the start, [Pa]
    end : float
        Gauge pressure at the end, [Pa]
    volume : float
        Receiver volume, [m3]
    rated_flow : float
        Rated flow, [m3/s]
    rated_pressure : float
        Gauge pressure of the rating, [Pa]
    flow_reference : str
        Reference condition of the rating
    stages : str
        one or two
    ambient : float, optional
        Air pressure at the machine, [Pa]
    extra_volume : float, optional
        Pipes, hoses and coolers up to the closed valve, [m3]
    """
    total = closed_volume(volume, extra_volume)
    laps_of(((0.0, start), (1.0, end)))
    rating = Rating(rated_flow, rated_pressure, flow_reference, stages, ambient)
    low, high = absolute_pressure(start, ambient), absolute_pressure(end, ambient)
    falling, _, steps = rating.times(total, low, high)
    return Finding(
        Verdict.PASS,
        f"A sound machine takes about {_clock(falling)}; a tank that warms shows its pressure up "
        f"to a tenth sooner. Stop the run at {_clock(2 * falling)}.",
        Severity.ADVISORY,
        Quantity(falling, "time"),
        working=tuple(steps),
        ask=unusual_tank(total, end),
        results={"predicted": falling},
    )


def _clock(seconds: float) -> str:
    """Minutes and seconds, as on a stopwatch.

    >>> _clock(492.45)
    '8:12 min'
    """
    return f"{int(seconds + 0.5) // 60}:{int(seconds + 0.5) % 60:02d} min"


@check(
    "Pump-up time against the prediction",
    severity=Severity.SAFETY,
    source=(PREDICTION, OUR_JUDGEMENT),
    results={"ratio": "ratio", "predicted": "time"},
)
def pumpup_time(
    laps: tuple[tuple[float, float], ...],
    volume: Volume,
    rated_flow: Flow,
    rated_pressure: GaugePressure,
    flow_reference: str,
    stages: str,
    ambient: AbsolutePressure = STANDARD_PRESSURE,
    extra_volume: Volume | None = None,
    start_temperature: Temperature | None = None,
    end_temperature: Temperature | None = None,
    intake_temperature: Temperature | None = None,
) -> Finding:
    """Measured time over predicted time, for the same two pressures.

    Parameters
    ----------
    laps : tuple of (float, float)
        Time and gauge pressure from start to end, [s], [Pa]
    volume : float
        Receiver volume, [m3]
    rated_flow : float
        Rated flow, [m3/s]
    rated_pressure : float
        Gauge pressure of the rating, [Pa]
    flow_reference : str
        Reference condition of the rating
    stages : str
        one or two
    ambient : float, optional
        Air pressure at the machine, [Pa]
    extra_volume : float, optional
        Pipes, hoses and coolers up to the closed valve, [m3]
    start_temperature : float, optional
        Tank air at the start, [K]
    end_temperature : float, optional
        Tank air at the end; without it the tank is taken as cold, [K]
    intake_temperature : float, optional
        Air temperature at the intake, [K]
    """
    laps = laps_of(laps)
    total = closed_volume(volume, extra_volume)
    rating = Rating(rated_flow, rated_pressure, flow_reference, stages, ambient)
    low, high = (absolute_pressure(lap[1], ambient) for lap in (laps[0], laps[-1]))
    predicted, _, steps = rating.times(total, low, high)
    if start_temperature and end_temperature and intake_temperature:
        if end_temperature < start_temperature - COOLING_REFUSED:
            fall = both(start_temperature - end_temperature, "temperature difference")
            raise InputError(
                "end temperature",
                f"{fall} below the start",
                "a tank that is not colder after pumping",
            )
        predicted, step = work(
            pumpup_time_warm,
            cold_time=predicted,
            start=low,
            end=high,
            start_temperature=start_temperature,
            end_temperature=end_temperature,
            intake_temperature=intake_temperature,
        )
        steps.append(step)
    time = duration(laps)
    found = Finding(
        Verdict.PASS,
        f"It took {percent(time / predicted)} of the predicted time.{gap_note(laps)}",
        Severity.HANDOVER,
        Quantity(time, "time"),
        Limit(None, 1.10 * predicted, "time"),
        tuple(steps),
        ask=unusual_tank(total, laps[-1][1]),
        results={"ratio": time / predicted, "predicted": predicted},
    )
    return _time_verdict(found, time / predicted, too_short(high - low, time))


def _time_verdict(found: Finding, ratio: float, short: str) -> Finding:
    """Judge the ratio of times; a run that drags on is stopped however small it is."""
    if not at_most(ratio, 2.0):
        return replace(
            found,
            verdict=Verdict.FAIL,
            text="It took more than twice the predicted time.",
            severity=Severity.SAFETY,
            danger="The pump overheats without end; hot carbon and oil mist can burn in the pipe.",
            clears="Stop the run, find out why, repair, and run it again.",
        )
    if short:
        return replace(
            found,
            verdict=Verdict.INCONCLUSIVE,
            text=f"{short} Too small a run to judge by.",
            danger=SLOW,
            clears="Pump up over a wider span.",
        )
    if at_most(ratio, 1.10):
        if at_least(ratio, 0.85):
            return found
        return replace(
            found,
            verdict=Verdict.ADVISORY,
            severity=Severity.ADVISORY,
            text=f"It took only {percent(ratio)} of the predicted time: too good to be true.",
            clears="Look for water in the tank, a closed valve before it, or a wrong volume.",
        )
    slow = at_most(ratio, 1.20)
    return replace(
        found,
        verdict=Verdict.ADVISORY if slow else Verdict.FAIL,
        severity=Severity.ADVISORY if slow else Severity.HANDOVER,
        text=f"It took {percent(ratio)} of the predicted time.",
        danger=SLOW,
        clears="Look at belts, filter, valves, head gasket, unloader, speed and open outlets.",
    )


@check(
    "Second pump-up against the first",
    severity=Severity.HANDOVER,
    source=Source("two results agree within their uncertainty", "judgement"),
    results={"difference": "ratio"},
)
def pumpup_repeat(
    first: tuple[tuple[float, float], ...],
    second: tuple[tuple[float, float], ...] | None = None,
    uncertainty: Ratio | None = None,
) -> Finding:
    """Whether a second run over the same span gives the same rise of pressure in time.

    Parameters
    ----------
    first : tuple of (float, float)
        Laps of the first run, [s], [Pa]
    second : tuple of (float, float), optional
        Laps of the second run, [s], [Pa]
    uncertainty : float, optional
        Relative expanded uncertainty of the delivery, [-]
    """
    if second is None:
        return Finding(Verdict.NOT_APPLICABLE, "One run only.", Severity.HANDOVER)
    first, second = laps_of(first), laps_of(second)
    rise = first[-1][1] - first[0][1]
    moved = max(abs(second[n][1] - first[n][1]) for n in (0, -1))
    difference = line(second).slope / line(first).slope - 1
    found = Finding(
        Verdict.PASS,
        f"The two runs differ by {percent(abs(difference))}.",
        Severity.HANDOVER,
        Quantity(difference, "ratio"),
        None if uncertainty is None else Limit(-uncertainty, uncertainty, "ratio"),
        results={"difference": difference},
        clears="Run it again between the same pressures, from the same tank temperature.",
    )
    if not at_most(moved, SAME_SPAN * rise):
        return replace(
            found,
            verdict=Verdict.INCONCLUSIVE,
            text="The second run did not go between the same pressures.",
        )
    if uncertainty is None:
        return replace(
            found,
            verdict=Verdict.INCONCLUSIVE,
            text=f"{found.text} Without an uncertainty there is nothing to compare that with.",
        )
    if at_most(abs(difference), uncertainty):
        return replace(found, clears="")
    return replace(
        found,
        verdict=Verdict.INCONCLUSIVE,
        text=f"The two runs differ by {percent(abs(difference))}, more than they should.",
        danger="A result that does not repeat supports neither a pass nor a fail.",
    )
