"""Oil as filled: level by each indicator, grade against the builder, viscosity of the lot."""

from __future__ import annotations

from math import radians

from wizard.calc.accepted import above_zero, one_of, within
from wizard.calc.oil import CENTISTOKES, saybolt_seconds, viscosity_at, viscosity_at_100
from wizard.checks.oil_names import grade, index_or_usual
from wizard.checks.rule import check
from wizard.finding import Finding, Limit, Severity, Verdict
from wizard.formula import Step, work
from wizard.kinds import Angle, KinematicViscosity, Number, Ratio, Temperature
from wizard.quantities import Quantity, at_least, at_most
from wizard.sources import COMMON_PRACTICE, OUR_JUDGEMENT, Source

INDICATORS = ("sight glass", "dipstick", "neither")
PORT_MARKS = (
    "at the bottom thread",
    "below the bottom thread",
    "above the bottom thread",
    "cannot see",
)
LOW, HIGH = 0.50, 0.75
STEEPEST = radians(2.0)
NO_SPLASH = "The dipper throws no oil when the level is low; the rod seizes within minutes."
FOAM = "Too much oil foams, leaves with the air and cokes the valves."
LEAST_SECONDS = 200.0
AT_130_F = (130 + 459.67) / 1.8
NON_DETERGENT = "non-detergent compressor oil"
DETERGENTS = (NON_DETERGENT, "detergent engine oil", "not known")
PURITIES = ("only this oil", "another oil before, drained and flushed", "mixed", "not known")
NOT_STATED = "not stated"
LEAST_OIL = Source(
    "non-detergent, at least 200 SSU at 130 °F: Reciprocating Compressors: Operation and "
    "Maintenance pp. 381-382",
    "confirmed",
)
GRADES = Source("ISO 3448: midpoint ± 10 % at 40 °C", "confirmed")
CYLINDER_OILS = Source("NAVEDTRA 14259, cylinder oils", "confirmed")
LOWEST_FLASH = (350 + 459.67) / 1.8
HIGHEST_POUR = (35 + 459.67) / 1.8
MOST_CARBON = 0.02
WRONG_OIL = "Wrong oil leaves carbon on hot valves, where it can glow and set the oil mist alight."


@check("Oil level", severity=Severity.SAFETY, source=(COMMON_PRACTICE, OUR_JUDGEMENT))
def oil_level(
    indicator: str,
    level: Ratio | None = None,
    mark: str | None = None,
    lengthwise: Angle | None = None,
    crosswise: Angle | None = None,
) -> Finding:
    """Level between the middle and three quarters, or at the bottom thread of the fill port.

    Parameters
    ----------
    indicator : str
        "sight glass", "dipstick" or "neither"
    level : float, optional
        Share of the glass, or of the way from the low to the high mark of the dipstick, [-]
    mark : str, optional
        Where the oil stands in the fill port, where there is neither glass nor dipstick
    lengthwise : float, optional
        How far the machine is out of level along the tank, [rad]
    crosswise : float, optional
        How far it is out of level across the tank, [rad]
    """
    one_of("indicator", indicator, INDICATORS)
    for way, angle in (("lengthwise", lengthwise), ("crosswise", crosswise)):
        within(way, abs(angle or 0.0), "angle", "°", 0, 45)
    tilt = max(abs(lengthwise or 0.0), abs(crosswise or 0.0))
    if not at_most(tilt, STEEPEST):
        return Finding(
            Verdict.INCONCLUSIVE,
            "The machine is more than 2° out of level, so its oil level says nothing.",
            Severity.SAFETY,
            Quantity(tilt, "angle"),
            Limit(None, STEEPEST, "angle"),
            danger=NO_SPLASH,
            clears="Level the machine, let the oil settle for 10 minutes, read again.",
        )
    if indicator == "neither":
        return _port_level(mark)
    if level is None:
        return _unseen("No level was read.")
    within("oil level", level, "ratio", "%", 0, 150)
    return _glass_level(level)


def _unseen(text: str) -> Finding:
    return Finding(
        Verdict.INCONCLUSIVE,
        text,
        Severity.SAFETY,
        danger=NO_SPLASH,
        clears="Clean the glass or the stick, settle for 10 minutes, read again.",
    )


def _port_level(mark: str | None) -> Finding:
    if mark is None:
        return _unseen("No level was read.")
    one_of("level at the fill port", mark, PORT_MARKS)
    if mark == "at the bottom thread":
        return Finding(
            Verdict.PASS, "The oil stands at the bottom thread of the port.", Severity.SAFETY
        )
    if mark == "above the bottom thread":
        return Finding(
            Verdict.FAIL,
            "The oil stands above the bottom thread of the port.",
            Severity.HANDOVER,
            danger=FOAM,
            clears="Drain to the bottom thread, settle, read again.",
        )
    text = "The oil stands below the fill port." if "below" in mark else "The oil cannot be seen."
    return Finding(
        Verdict.FAIL,
        text,
        Severity.SAFETY,
        danger=NO_SPLASH,
        clears="Fill to the bottom thread with the builder's oil, settle, read again.",
    )


def _glass_level(level: Ratio) -> Finding:
    band = Limit(LOW, HIGH, "ratio")
    value = Quantity(level, "ratio")
    ask = "Is the level a share of the glass or stick? It reads above the top." if level > 1 else ""
    if not at_least(level, LOW):
        return Finding(
            Verdict.FAIL,
            "The oil stands below the middle.",
            Severity.SAFETY,
            value,
            band,
            danger=NO_SPLASH,
            clears="Top up with the same oil to between the middle and three quarters.",
        )
    if not at_most(level, HIGH):
        return Finding(
            Verdict.FAIL,
            "The oil stands above three quarters.",
            Severity.HANDOVER,
            value,
            band,
            danger=FOAM,
            clears="Drain to between the middle and three quarters, settle, read again.",
            ask=ask,
        )
    return Finding(
        Verdict.PASS,
        "The oil stands between the middle and three quarters.",
        Severity.SAFETY,
        value,
        band,
    )


@check(
    "Oil grade and type against the builder",
    severity=Severity.HANDOVER,
    source=(LEAST_OIL, COMMON_PRACTICE),
)
def oil_grade(
    filled: str,
    builder: str,
    detergent: str,
    purity: str,
    oil_type: str | None = None,
    builder_type: str | None = None,
    index: Number | None = None,
) -> Finding:
    """The builder's grade and type, non-detergent, and no two oils mixed.

    Parameters
    ----------
    filled : str
        Grade on the drum, as "ISO VG 100" or "SAE 30"
    builder : str
        Grade that the builder asks for, or "not stated"
    detergent : str
        "non-detergent compressor oil", "detergent engine oil" or "not known"
    purity : str
        "only this oil", "another oil before, drained and flushed", "mixed" or "not known"
    oil_type : str, optional
        "mineral" or "synthetic"
    builder_type : str, optional
        Type that the builder asks for, or "not stated"
    index : float, optional
        Viscosity index; 95 if not given, [-]
    """
    one_of("detergent", detergent, DETERGENTS)
    one_of("purity", purity, PURITIES)
    row = grade("grade filled", filled)
    wanted = None if builder == NOT_STATED else grade("builder's grade", builder)
    faults = []
    if wanted and wanted["name"] != row["name"]:
        faults.append(f"the builder asks for {builder}")
    if oil_type and builder_type not in (None, NOT_STATED, oil_type):
        faults.append(f"the builder asks for {builder_type} oil")
    if detergent != NON_DETERGENT:
        faults.append("it is not a non-detergent compressor oil")
    if purity in ("mixed", "not known"):
        faults.append("two oils may be mixed")
    steps: tuple[Step, ...] = ()
    if wanted is None:
        seconds, steps = _seconds_at_130(row["midpoint"] * CENTISTOKES, index)
        if not at_least(seconds, LEAST_SECONDS):
            faults.append("it is thinner than 200 Saybolt seconds at 130 °F")
    return _grade_finding(filled, faults, wanted is None, steps)


def _seconds_at_130(
    midpoint: KinematicViscosity, index: Number | None
) -> tuple[float, tuple[Step, ...]]:
    """Saybolt seconds at 130 °F of an oil known by its grade."""
    hot, first = work(viscosity_at_100, viscosity_40=midpoint, index=index_or_usual(index))
    warm, second = work(
        viscosity_at, temperature=AT_130_F, viscosity_40=midpoint, viscosity_100=hot
    )
    seconds, third = work(saybolt_seconds, viscosity=warm, temperature=AT_130_F)
    return seconds, (first, second, third)


def _grade_finding(
    filled: str, faults: list[str], builder_silent: bool, steps: tuple[Step, ...]
) -> Finding:
    if faults:
        return Finding(
            Verdict.FAIL,
            f"{filled} is not the right oil: {', '.join(faults)}.",
            Severity.HANDOVER,
            working=steps,
            danger=WRONG_OIL,
            clears="Drain, flush as the builder says, fill with the builder's oil only.",
        )
    if builder_silent:
        return Finding(
            Verdict.ADVISORY,
            "The builder's papers name no grade; the oil meets the general rule.",
            Severity.ADVISORY,
            working=steps,
            danger=WRONG_OIL,
            clears="Ask the builder for the grade and write it in the papers.",
        )
    return Finding(
        Verdict.PASS, f"{filled} is the oil that the builder asks for.", Severity.HANDOVER
    )


@check("Viscosity of the lot against its grade", severity=Severity.HANDOVER, source=GRADES)
def oil_viscosity(filled: str, viscosity: KinematicViscosity) -> Finding:
    """A tested lot lies within 10 % of its grade at 40 °C, ends included.

    Parameters
    ----------
    filled : str
        Grade on the drum, as "ISO VG 100" or "SAE 30"
    viscosity : float
        Kinematic viscosity at 40 °C from the test of the lot, [m2/s]
    """
    above_zero("viscosity at 40 °C", viscosity, "kinematic viscosity", "cSt")
    row = grade("grade filled", filled)
    low, high = row["low"] * CENTISTOKES, row["high"] * CENTISTOKES
    inside = at_least(viscosity, low) and at_most(viscosity, high)
    return Finding(
        Verdict.PASS if inside else Verdict.FAIL,
        f"The lot lies within {row['name']}."
        if inside
        else f"The lot is too {'thin' if viscosity < low else 'thick'} for {row['name']}.",
        Severity.HANDOVER,
        Quantity(viscosity, "kinematic viscosity"),
        Limit(low, high, "kinematic viscosity"),
        danger=WRONG_OIL,
        clears="" if inside else "Use another lot, and keep a sample of this one.",
        ask=""
        if 0.2 * low < viscosity < 5 * high
        else "Is this the value at 40 °C in cSt? It is far from the grade.",
    )


@check("Oil data sheet", severity=Severity.HANDOVER, source=CYLINDER_OILS)
def oil_data_sheet(
    flash_point: Temperature | None = None,
    pour_point: Temperature | None = None,
    carbon_residue: Ratio | None = None,
) -> Finding:
    """Flash point at least 350 °F, pour point at most 35 °F, carbon residue at most 2 %.

    Parameters
    ----------
    flash_point : float, optional
        Flash point on the data sheet, [K]
    pour_point : float, optional
        Pour point on the data sheet, [K]
    carbon_residue : float, optional
        Carbon residue on the data sheet, [-]
    """
    shown: tuple[Quantity, Limit] | None = None
    faults = []
    if carbon_residue is not None:
        within("carbon residue", carbon_residue, "ratio", "%", 0, 100)
        shown = Quantity(carbon_residue, "ratio"), Limit(None, MOST_CARBON, "ratio")
        if not at_most(carbon_residue, MOST_CARBON):
            faults.append("it leaves too much carbon")
    if pour_point is not None:
        within("pour point", pour_point, "temperature", "°C", -80, 60)
        shown = Quantity(pour_point, "temperature"), Limit(None, HIGHEST_POUR, "temperature")
        if not at_most(pour_point, HIGHEST_POUR):
            faults.append("its pour point is too high")
    if flash_point is not None:
        within("flash point", flash_point, "temperature", "°C", 0, 400)
        shown = Quantity(flash_point, "temperature"), Limit(LOWEST_FLASH, None, "temperature")
        if not at_least(flash_point, LOWEST_FLASH):
            faults.append("its flash point is too low")
    if shown is None:
        return Finding(
            Verdict.INCONCLUSIVE,
            "Nothing from the data sheet was given.",
            Severity.HANDOVER,
            danger=WRONG_OIL,
            clears="Read flash point, pour point and carbon residue from the data sheet.",
        )
    return Finding(
        Verdict.FAIL if faults else Verdict.PASS,
        f"The oil is not fit for a compressor: {', '.join(faults)}."
        if faults
        else "The data sheet is that of a compressor oil.",
        Severity.HANDOVER,
        *shown,
        danger=WRONG_OIL,
        clears="Fill with an oil whose data sheet meets the builder's paper." if faults else "",
    )
