"""Oil that is too cold to splash, or too hot to carry."""

from __future__ import annotations

from wizard.calc.accepted import within
from wizard.calc.oil import (
    CENTISTOKES,
    D341,
    temperature_at_viscosity,
    viscosity_at,
    viscosity_at_100,
)
from wizard.checks.oil import HIGHEST_POUR
from wizard.checks.oil_names import grade, index_or_usual
from wizard.checks.rule import check
from wizard.finding import Finding, Limit, Severity, Verdict
from wizard.formula import Step, work
from wizard.kinds import KinematicViscosity, Number, Temperature
from wizard.quantities import Quantity, at_least
from wizard.sources import COMMON_PRACTICE, Source

COLD_START = Source(
    "1000 cSt puts the limit of an ISO VG 100 mineral oil near 6.5 °C, where a sump heater is "
    "common practice; no standard was found",
    "judgement",
)
HEATER = Source("NAVEDTRA 14259: a heater gives adequate viscosity for a cold start", "confirmed")
THICKEST, THICK = 1000 * CENTISTOKES, 500 * CENTISTOKES
THINNEST = 10 * CENTISTOKES
ABOVE_POUR = 10.0
DRY = "A dipper cannot throw oil as thick as treacle; bearings and cylinders start dry."
WARMER = "Warm the oil with a sump heater, or fill the thinner grade that the builder allows."


def _oil(
    filled: str,
    index: Number | None,
    viscosity_40: KinematicViscosity | None,
    viscosity_100: KinematicViscosity | None,
) -> tuple[dict[str, KinematicViscosity], tuple[Step, ...]]:
    """Viscosities at 40 °C and 100 °C: as tested, else from grade and index."""
    at_40 = grade("grade filled", filled)["midpoint"] * CENTISTOKES
    if viscosity_40 is not None:
        at_40 = viscosity_40
    if viscosity_100 is not None:
        return {"viscosity_40": at_40, "viscosity_100": viscosity_100}, ()
    hot, step = work(viscosity_at_100, viscosity_40=at_40, index=index_or_usual(index))
    return {"viscosity_40": at_40, "viscosity_100": hot}, (step,)


@check(
    "Coldest start of the oil",
    severity=Severity.SAFETY,
    source=(COLD_START, HEATER, D341),
    results={"coldest_start": "temperature"},
)
def cold_start(
    filled: str,
    temperature: Temperature,
    index: Number | None = None,
    pour_point: Temperature | None = None,
    heated: Temperature | None = None,
    viscosity_40: KinematicViscosity | None = None,
    viscosity_100: KinematicViscosity | None = None,
) -> Finding:
    """No start above 1000 cSt or within 10 K of the pour point; from 500 cSt warm up unloaded.

    Parameters
    ----------
    filled : str
        Grade in the sump, as "ISO VG 100" or "SAE 30"
    temperature : float
        Coldest temperature at a start: of the sump, or of the air around it, [K]
    index : float, optional
        Viscosity index; 95 if not given, [-]
    pour_point : float, optional
        Pour point on the data sheet, [K]
    heated : float, optional
        Temperature that a sump heater holds, [K]
    viscosity_40 : float, optional
        Tested viscosity at 40 °C; the midpoint of the grade if not given, [m2/s]
    viscosity_100 : float, optional
        Viscosity at 100 °C on the data sheet; from the index if not given, [m2/s]
    """
    within("coldest temperature", temperature, "temperature", "°C", -60, 100)
    if heated is not None:
        within("heated sump", heated, "temperature", "°C", -20, 80)
    if pour_point is not None:
        within("pour point", pour_point, "temperature", "°C", -80, 60)
    oil, steps = _oil(filled, index, viscosity_40, viscosity_100)
    coldest, cold_step = work(temperature_at_viscosity, viscosity=THICKEST, **oil)
    easy, easy_step = work(temperature_at_viscosity, viscosity=THICK, **oil)
    sump = temperature if heated is None else max(temperature, heated)
    limit = coldest if pour_point is None else max(coldest, pour_point + ABOVE_POUR)
    verdict, text, clears = _cold_verdict(sump, limit, coldest, easy, pour_point)
    return Finding(
        verdict,
        text,
        Severity.ADVISORY if verdict is Verdict.ADVISORY else Severity.SAFETY,
        Quantity(sump, "temperature"),
        Limit(limit, None, "temperature"),
        (*steps, cold_step, easy_step),
        danger=DRY,
        clears=clears,
        ask="" if 233 <= temperature <= 333.2 else "Is the temperature in that unit?",
        results={"coldest_start": limit},
    )


def _cold_verdict(
    sump: Temperature,
    limit: Temperature,
    coldest: Temperature,
    easy: Temperature,
    pour_point: Temperature | None,
) -> tuple[Verdict, str, str]:
    if not at_least(sump, coldest):
        return Verdict.FAIL, "The oil is thicker than 1000 cSt at that temperature.", WARMER
    if not at_least(sump, limit):
        return Verdict.FAIL, "The oil is within 10 K of its pour point.", WARMER
    if not at_least(sump, easy):
        text = "The oil is between 500 and 1000 cSt: run 10 minutes unloaded before loading."
        return Verdict.ADVISORY, text, "A thinner grade or a heater, if such starts are usual."
    if pour_point is None and not at_least(sump, HIGHEST_POUR + ABOVE_POUR):
        text = "Thin enough to splash, but the pour point is not known."
        return Verdict.ADVISORY, text, "Read the pour point from the data sheet."
    return Verdict.PASS, "The oil is thin enough to splash at the coldest start.", ""


@check(
    "Oil film at running temperature",
    severity=Severity.ADVISORY,
    source=(COMMON_PRACTICE, D341),
    results={"viscosity": "kinematic viscosity"},
)
def running_film(
    filled: str,
    temperature: Temperature,
    index: Number | None = None,
    viscosity_40: KinematicViscosity | None = None,
    viscosity_100: KinematicViscosity | None = None,
) -> Finding:
    """At least 10 cSt at the temperature of the sump.

    Parameters
    ----------
    filled : str
        Grade in the sump, as "ISO VG 100" or "SAE 30"
    temperature : float
        Temperature of the sump, warm and loaded, [K]
    index : float, optional
        Viscosity index; 95 if not given, [-]
    viscosity_40 : float, optional
        Tested viscosity at 40 °C; the midpoint of the grade if not given, [m2/s]
    viscosity_100 : float, optional
        Viscosity at 100 °C on the data sheet; from the index if not given, [m2/s]
    """
    within("sump temperature", temperature, "temperature", "°C", 0, 150)
    oil, steps = _oil(filled, index, viscosity_40, viscosity_100)
    viscosity, step = work(viscosity_at, temperature=temperature, **oil)
    carries = at_least(viscosity, THINNEST)
    return Finding(
        Verdict.PASS if carries else Verdict.ADVISORY,
        "The oil keeps a film at that temperature."
        if carries
        else "The oil is thinner than 10 cSt at that temperature.",
        Severity.ADVISORY,
        Quantity(viscosity, "kinematic viscosity"),
        Limit(THINNEST, None, "kinematic viscosity"),
        (*steps, step),
        danger="A film too thin lets rod and crankpin touch, and they wear out early.",
        clears="" if carries else "Find out why the sump is so hot; ask for a thicker grade.",
        results={"viscosity": viscosity},
    )
