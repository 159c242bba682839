"""Noise of a working day against the exposure limits, and peaks.

Invariant: the strictest rule that applies decides; a protector not known to be worn is not worn.
"""

from __future__ import annotations

from dataclasses import replace

from wizard.calc.accepted import within
from wizard.calc.noise import (
    EUROPE,
    NIOSH,
    OSHA,
    daily_exposure_level,
    niosh_hours,
    noise_dose,
    osha_average,
    osha_hours,
)
from wizard.checks.rule import check
from wizard.finding import Finding, Limit, Severity, Verdict
from wizard.formula import work
from wizard.kinds import SoundLevel, Time
from wizard.quantities import Quantity, at_least, at_most
from wizard.sources import OUR_JUDGEMENT, Source

CONTINUOUS_MAX = 115.0
PEAK_MAX = 140.0
ACTION = 85.0
ACTION_DOSE = 0.5
QUIETEST_MACHINE = 70.0
EUROPE_LOWER, EUROPE_LIMIT = 80.0, 87.0

DEAF = "Noise damage is painless, permanent and adds up; people near the machine lose hearing."
WEAR = "Wear rated protectors there from now on, or stay for less time, or make it quieter."
DIRECTIVE = Source("Directive 2003/10/EC, exposure limit and action values", "confirmed")


@check(
    "Noise exposure of the day",
    severity=Severity.SAFETY,
    source=(OSHA, NIOSH, OUR_JUDGEMENT),
    results={
        "dose": "ratio",
        "limit_dose": "ratio",
        "niosh_dose": "ratio",
        "average": "sound level",
    },
)
def noise_exposure(
    levels: tuple[SoundLevel, ...],
    hours: tuple[Time, ...],
    protected: bool | None = None,
    trigger: SoundLevel = ACTION,
) -> Finding:
    """Dose of the shift by the 5 dB rule, with the 3 dB rule beside it.

    Parameters
    ----------
    levels : tuple
        A-weighted level at each place of the shift, 40 to 140, [dBA]
    hours : tuple
        Time at each place, at most 24 h together, [s]
    protected : bool, optional
        Whether rated protectors are worn where it is loud
    trigger : float, optional
        Level or average from which protection is required, 85 or 90, [dBA]
    """
    within("trigger", trigger, "sound level", "dBA", 85, 90)
    dose, step = work(noise_dose, levels=levels, hours=hours)
    limit_dose = noise_dose(levels, hours, threshold=90.0)
    niosh_dose, niosh_step = work(noise_dose, levels=levels, hours=hours, rule="NIOSH")
    loudest = max(level for level, time in zip(levels, hours, strict=True) if time > 0)
    results = {"dose": dose, "limit_dose": limit_dose, "niosh_dose": niosh_dose}
    working = [work(osha_hours, level=loudest)[1], work(niosh_hours, level=loudest)[1], step]
    average = 0.0
    if dose:
        average, average_step = work(osha_average, dose=dose)
        results["average"] = average
        working.append(average_step)
    finding = Finding(
        Verdict.PASS,
        "Level and day's average are below the level that asks for protection.",
        Severity.SAFETY,
        Quantity(max(loudest, average), "sound level"),
        Limit(None, trigger, "sound level"),
        (*working, niosh_step),
        danger=DEAF,
        results=results,
        ask="Quieter than any bare piston machine (78 to 92 dBA at 1 m); was it running loaded?"
        if loudest < QUIETEST_MACHINE
        else "",
    )
    return _judge_day(finding, loudest, protected, trigger)


def _judge_day(finding: Finding, loudest: float, protected: bool | None, trigger: float) -> Finding:
    """The gravest of the rules that the day breaks."""
    dose = finding.results["dose"]
    average = finding.results.get("average", 0.0)
    if loudest > CONTINUOUS_MAX and not protected:
        found = "Above 115 dBA, where nobody may be without protection."
        limit = Limit(None, CONTINUOUS_MAX, "sound level")
        return _bare_ears(replace(finding, limit=limit), found, protected, Severity.SAFETY)
    if at_least(dose, 1.0):
        over = replace(
            finding, value=Quantity(dose, "ratio"), limit=Limit(None, 1.0, "ratio"), clears=WEAR
        )
        if not protected:
            found = "The day's dose uses up the whole limit and ears are bare."
            return _bare_ears(over, found, protected, Severity.SAFETY)
        return replace(
            over,
            verdict=Verdict.FAIL,
            severity=Severity.HANDOVER,
            text="The day's dose is at the limit or above; protectors alone are not enough.",
            clears="Shorten the stay, enclose the machine or move people away; keep protectors on.",
        )
    if at_least(max(loudest, average), trigger):
        if not protected:
            found = "Loud enough that protectors are required, and ears are bare."
            return _bare_ears(finding, found, protected, Severity.HANDOVER)
        return _note(finding, "Protectors are required here and are worn.")
    if at_least(max(loudest, average), ACTION) or at_least(dose, ACTION_DOSE):
        return _note(finding, "At the action level: hearing tests and training are required.")
    if finding.results["niosh_dose"] > 1.0:
        return _note(finding, "Within the law, but above the 3 dB recommendation of NIOSH.")
    return finding


def _bare_ears(finding: Finding, text: str, protected: bool | None, severity: Severity) -> Finding:
    if protected is None:
        verdict, text = Verdict.INCONCLUSIVE, "Loud, and not known whether protectors are worn."
    else:
        verdict = Verdict.FAIL
    return replace(finding, verdict=verdict, text=text, severity=severity, clears=WEAR)


def _note(finding: Finding, text: str) -> Finding:
    return replace(
        finding,
        verdict=Verdict.ADVISORY,
        severity=Severity.ADVISORY,
        text=text,
        limit=None,
        clears="Tell the owner's safety officer and note it on the handover sheet.",
    )


@check(
    "Noise exposure of the day, Europe",
    severity=Severity.SAFETY,
    source=(DIRECTIVE, EUROPE),
    results={"exposure": "sound level"},
)
def noise_exposure_europe(
    levels: tuple[SoundLevel, ...],
    hours: tuple[Time, ...],
    protected: bool | None = None,
) -> Finding:
    """Daily exposure level against 80 and 85 dBA (action) and 87 dBA (limit at the ear).

    Parameters
    ----------
    levels : tuple
        A-weighted level at each place of the shift, 40 to 140, [dBA]
    hours : tuple
        Time at each place, at most 24 h together, [s]
    protected : bool, optional
        Whether rated protectors are worn where it is loud
    """
    exposure, step = work(daily_exposure_level, levels=levels, hours=hours)
    finding = Finding(
        Verdict.PASS,
        "Below the lower action value.",
        Severity.SAFETY,
        Quantity(exposure, "sound level"),
        Limit(None, EUROPE_LOWER, "sound level"),
        (step,),
        danger=DEAF,
        results={"exposure": exposure},
    )
    if not at_least(exposure, EUROPE_LOWER):
        return finding
    if protected:
        return _note(finding, "At or above an action value, with protectors worn.")
    if not at_most(exposure, EUROPE_LIMIT):
        over = replace(finding, limit=Limit(None, EUROPE_LIMIT, "sound level"))
        return _bare_ears(
            over, "Above the exposure limit with bare ears.", protected, Severity.SAFETY
        )
    if at_least(exposure, ACTION):
        upper = replace(finding, limit=Limit(None, ACTION, "sound level"))
        found = "At the upper action value, and ears are bare."
        return _bare_ears(upper, found, protected, Severity.HANDOVER)
    return _note(finding, "At the lower action value: protectors must be on offer.")


@check(
    "Peak of a relief valve or blow-off",
    severity=Severity.SAFETY,
    source=Source("29 CFR 1910.95(b)(2), impulsive noise", "confirmed"),
)
def noise_peak(peak: SoundLevel) -> Finding:
    """Impulse noise above 140 dB damages an ear at once.

    Parameters
    ----------
    peak : float
        C-weighted peak where people stand, 60 to 190, [dB]
    """
    within("peak", peak, "sound level", "dB(C)", 60, 190)
    finding = Finding(
        Verdict.PASS,
        "The peak is not above 140 dB.",
        Severity.SAFETY,
        Quantity(peak, "sound level"),
        Limit(None, PEAK_MAX, "sound level"),
        danger="One blast above 140 dB can deafen at once.",
    )
    if at_most(peak, PEAK_MAX):
        return finding
    return replace(
        finding,
        verdict=Verdict.FAIL,
        text="The peak is above 140 dB: nobody stands there.",
        clears="Stand farther away, out of line of the outlet, in double protection; pipe the "
        "outlet to a safe place.",
    )
