"""Temperature of the discharge air, stage by stage.

Invariant: a reading on the skin is raised before it is judged, because the air inside is hotter.
"""

from __future__ import annotations

from wizard.both_units import both
from wizard.calc.accepted import above_zero, inside, one_of
from wizard.calc.air_state import absolute_pressure
from wizard.calc.compression import air_from_skin, stage_temperature
from wizard.calc.gas import HEAT_RATIO, STANDARD_PRESSURE
from wizard.checks.air_state import STAGES
from wizard.checks.interstage import NO_TAPPING
from wizard.checks.rule import check
from wizard.errors import InputError
from wizard.finding import Finding, Limit, Severity, Verdict
from wizard.formula import Step, work
from wizard.kinds import AbsolutePressure, GaugePressure, Temperature, Time
from wizard.quantities import Quantity, at_least, at_most
from wizard.sources import Source

POCKET = "probe in a pocket in the air"
SKIN = "probe on the pipe, insulated"
PROBES = (POCKET, SKIN)
STEADY, NOT_WATCHED = "under 1 K (2 °F) a minute", "not watched"
CHANGES = (STEADY, "more than that", NOT_WATCHED)
TWO_STAGE_STOP = 273.15 + 177
TWO_STAGE_NOTE = 273.15 + 149
CEILING = 273.15 + 200
ONE_STAGE_NOTE, ONE_STAGE_FIX, ONE_STAGE_STOP = 273.15 + 177, 273.15 + 200, 273.15 + 220
OVER_ADIABATIC = 10.0
WARM_AFTER = {"one": 20 * 60.0, "two": 15 * 60.0}
NO_PRESSURE = Finding(Verdict.OPEN, "Waits for the pressure after the stage.", Severity.SAFETY)
FIRE = "Oil turns to carbon on hot valves, carbon glows, and oil mist over it burns or explodes."
ADVICE = Source(
    "Reciprocating Compressors: Operation and Maintenance, pp. 381-382: at most 350 °F (177 °C)",
    "confirmed",
)
TABLES = Source("ISO 5388 and EN 1012-1: 200 °C and 220 °C", "memory")
STEPS = Source("the steps at 149, 177 and 200 °C, 15 K for a skin reading, warm-up", "judgement")


@check(
    "Discharge air temperature",
    severity=Severity.SAFETY,
    source=(ADVICE, TABLES, STEPS),
    results={"air": "temperature", "adiabatic": "temperature"},
)
def discharge_temperature(
    measured: Temperature,
    probe: str,
    stages: str,
    inlet_temperature: Temperature,
    outlet_pressure: GaugePressure | None = None,
    inlet_pressure: GaugePressure = 0.0,
    ambient: AbsolutePressure = STANDARD_PRESSURE,
    builder_limit: Temperature | None = None,
    loaded_time: Time | None = None,
    change: str = NOT_WATCHED,
    between: str | None = None,
) -> Finding:
    """Air temperature after a stage against its limits and against what physics allows.

    Parameters
    ----------
    measured : float
        Reading at the discharge of the stage, [K]
    probe : str
        probe in a pocket in the air, or probe on the pipe, insulated
    stages : str
        Stages of the pump, one or two
    inlet_temperature : float
        Air temperature at the inlet of this stage, [K]
    outlet_pressure : float, optional
        Gauge pressure after this stage, [Pa]
    inlet_pressure : float, optional
        Gauge pressure before this stage, zero for the first, [Pa]
    ambient : float, optional
        Air pressure at the machine, [Pa]
    builder_limit : float, optional
        Limit in the builder's papers, [K]
    loaded_time : float, optional
        Time it has run loaded without a stop, [s]
    change : str, optional
        Change of the reading: under 1 K (2 °F) a minute, more than that, or not watched
    between : str, optional
        What the gauge between the stages does; "no tapping, so not checked" leaves the comparison
        with uncooled air out
    """
    one_of("probe", probe, PROBES)
    one_of("stages", stages, tuple(STAGES))
    one_of("change", change, CHANGES)
    inside("discharge temperature", measured, "temperature", "°C", -40, 400)
    inside("inlet temperature", inlet_temperature, "temperature", "°C", -60, 150)
    inside("builder's limit", builder_limit, "temperature", "°C", 80, 300)
    above_zero("loaded time", loaded_time, "time", "min")
    air = measured
    steps: tuple[Step, ...] = ()
    if probe == SKIN:
        air, step = work(air_from_skin, skin=measured)
        steps = (step,)
    ceiling: float | None = None
    if between != NO_TAPPING:
        if outlet_pressure is None:
            return NO_PRESSURE
        ceiling, step = _uncooled(inlet_temperature, inlet_pressure, outlet_pressure, ambient)
        steps = (*steps, step)
    bands = _one_stage(builder_limit) if stages == "one" else _two_stage(builder_limit)
    warm = _warm(stages, loaded_time, change)
    return _judged(air, ceiling, bands, warm, steps)


def _uncooled(inlet: float, before: float, after: float, ambient: float) -> tuple[float, Step]:
    """What the stage would make of its air without any cooling."""
    if after <= before:
        raise InputError(
            "outlet pressure",
            both(after, "gauge pressure"),
            f"more than at the inlet of the stage, {both(before, 'gauge pressure')}",
        )
    high, low = (absolute_pressure(p, ambient) for p in (after, before))
    return work(stage_temperature, inlet_temperature=inlet, ratio=high / low, exponent=HEAT_RATIO)


def _two_stage(builder: float | None) -> tuple[float, float | None, float]:
    """Note, repair and stop temperatures; the builder's paper counts up to 200 °C."""
    stop = TWO_STAGE_STOP if builder is None else min(builder, CEILING)
    return min(TWO_STAGE_NOTE, stop), None, stop


def _one_stage(builder: float | None) -> tuple[float, float | None, float]:
    repair = ONE_STAGE_FIX if builder is None else min(builder, ONE_STAGE_STOP)
    return min(ONE_STAGE_NOTE, repair), repair, ONE_STAGE_STOP


def _warm(stages: str, loaded_time: float | None, change: str) -> bool:
    """Whether the machine is warm enough for a low reading to mean anything."""
    if change == STEADY:
        return True
    return loaded_time is not None and at_least(loaded_time, WARM_AFTER[stages])


def _judged(
    air: float,
    ceiling: float | None,
    bands: tuple[float, float | None, float],
    warm: bool,
    steps: tuple[Step, ...],
) -> Finding:
    note, repair, stop = bands
    expected = "Without a tapping nothing tells how hot uncooled air would be."
    results = {"air": air}
    if ceiling is not None:
        expected = f"Uncooled air would be at {both(ceiling, 'temperature')}."
        results["adiabatic"] = ceiling

    def found(
        verdict: Verdict, severity: Severity, text: str, clears: str, limit: float
    ) -> Finding:
        return Finding(
            verdict,
            f"{text} {expected}",
            severity,
            Quantity(air, "temperature"),
            Limit(None, limit, "temperature"),
            steps,
            danger=FIRE,
            clears=clears,
            results=results,
        )

    if not at_most(air, stop):
        cure = "Stop, let it cool, clean cooler and fins, check valves and rotation, and repair."
        return found(Verdict.FAIL, Severity.SAFETY, "Too hot: stop the machine.", cure, stop)
    if ceiling is not None and not at_most(air, ceiling + OVER_ADIABATIC):
        cure = "Find the leaking valve: hot air is compressed again."
        text = "Hotter than compression alone can make it."
        return found(
            Verdict.FAIL, Severity.HANDOVER, text, cure, min(stop, ceiling + OVER_ADIABATIC)
        )
    if repair is not None and not at_most(air, repair):
        cure = "Check valves, cooling and the builder's limit."
        return found(Verdict.FAIL, Severity.HANDOVER, "Too hot.", cure, repair)
    if not warm:
        cure = (
            "Run it loaded for 20 min (two-stage 15 min), or until it changes under 1 K a minute."
        )
        text = "The machine was not warm yet, or how long it ran was not noted."
        return found(Verdict.INCONCLUSIVE, Severity.HANDOVER, text, cure, stop)
    if not at_most(air, note):
        cure = "Note it, compare it with the builder's limit, check valves and cooling."
        return found(Verdict.ADVISORY, Severity.ADVISORY, "Hotter than is good.", cure, note)
    return found(Verdict.PASS, Severity.SAFETY, "Within its limit.", "", note)
