"""Hearing protectors against the level, and the pressure of blow guns."""

from __future__ import annotations

from dataclasses import replace

from wizard.calc.accepted import one_of, within
from wizard.calc.hearing import (
    APPENDIX_B,
    protected_from_a,
    protected_from_c,
    protected_from_snr,
)
from wizard.checks.rule import check
from wizard.finding import Finding, Limit, Severity, Verdict
from wizard.formula import Step, work
from wizard.kinds import GaugePressure, SoundLevel
from wizard.quantities import Quantity, at_most, to_si
from wizard.sources import OUR_JUDGEMENT, Source

AT_THE_EAR = 85.0
TOO_QUIET = 70.0
BLOW_GUN = to_si(30.0, "gauge pressure", "psig")


@check(
    "Level under the hearing protector",
    severity=Severity.HANDOVER,
    source=(APPENDIX_B, OUR_JUDGEMENT),
    results={"at_ear": "sound level"},
)
def protected_level(
    level: SoundLevel,
    rating: SoundLevel,
    rating_kind: str = "NRR",
    weighting: str = "A",
    derating: str = "half",
) -> Finding:
    """The level left at the ear, with the rating taken as it works in the field.

    Parameters
    ----------
    level : float
        Level at the working position, 40 to 140, [dBA]
    rating : float
        Rating on the package: NRR 7 to 37, SNR 10 to 40, [dB]
    rating_kind : str, optional
        NRR or SNR
    weighting : str, optional
        Setting of the meter, A or C
    derating : str, optional
        half or full credit of an NRR
    """
    one_of("rating_kind", rating_kind, ("NRR", "SNR"))
    one_of("weighting", weighting, ("A", "C"))
    one_of("derating", derating, ("half", "full"))
    if rating_kind == "SNR" and weighting == "A":
        return Finding(
            Verdict.INCONCLUSIVE,
            "An SNR rating works on a C-weighted level; this one is A-weighted.",
            Severity.HANDOVER,
            clears="Measure again with the meter set to C.",
        )
    at_ear, step = _at_ear(level, rating, rating_kind, weighting, derating)
    finding = Finding(
        Verdict.PASS,
        "The level under the protector is not above 85 dBA.",
        Severity.HANDOVER,
        Quantity(at_ear, "sound level"),
        Limit(None, AT_THE_EAR, "sound level"),
        (step,),
        danger="A protector that is too weak gives a false feeling of safety.",
        results={"at_ear": at_ear},
    )
    return _ear_verdict(finding, at_ear)


def _ear_verdict(finding: Finding, at_ear: float) -> Finding:
    """Neither too loud under the protector, nor too quiet to be warned."""
    if not at_most(at_ear, AT_THE_EAR):
        return replace(
            finding,
            verdict=Verdict.FAIL,
            text="Above 85 dBA under the protector.",
            clears="Wear plugs and muffs together, take a higher rating, or stay for less time.",
        )
    if at_ear < TOO_QUIET:
        return replace(
            finding,
            verdict=Verdict.ADVISORY,
            severity=Severity.ADVISORY,
            text="So quiet under the protector that shouts and alarms may not be heard.",
            clears="A lighter protector is enough here.",
        )
    return finding


def _at_ear(
    level: float, rating: float, rating_kind: str, weighting: str, derating: str
) -> tuple[float, Step]:
    """The level left, by the formula for this rating and this setting of the meter."""
    if rating_kind == "SNR":
        return work(protected_from_snr, level=level, snr=rating)
    rule = protected_from_a if weighting == "A" else protected_from_c
    return work(rule, level=level, nrr=rating, share=0.5 if derating == "half" else 1.0)


@check(
    "Blow gun pressure when blocked",
    severity=Severity.HANDOVER,
    source=Source("29 CFR 1910.242(b), as 1926.302(b)(4)", "confirmed"),
)
def blow_gun(dead_end: GaugePressure) -> Finding:
    """A nozzle pressed shut must not reach more than 30 psi.

    Parameters
    ----------
    dead_end : float
        Pressure at the nozzle when it is blocked, 0 to 400 psi, [Pa]
    """
    within("dead_end", dead_end, "gauge pressure", "psig", 0, 400)
    finding = Finding(
        Verdict.PASS,
        "The blocked nozzle stays at or below 30 psi (207 kPa).",
        Severity.HANDOVER,
        Quantity(dead_end, "gauge pressure"),
        Limit(None, BLOW_GUN, "gauge pressure"),
        danger="Air under the skin or into the blood can kill; chips go into eyes.",
    )
    if at_most(dead_end, BLOW_GUN):
        return finding
    return replace(
        finding,
        verdict=Verdict.FAIL,
        text="The blocked nozzle goes above 30 psi (207 kPa).",
        clears="Fit a relieving safety nozzle or a regulator set to 30 psi or less.",
    )
