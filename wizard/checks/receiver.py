"""Receiver: its plate, the cold it may see, its papers and its inspection.

Invariant: what cannot be read on the plate is not assumed.
"""

from __future__ import annotations

from dataclasses import replace
from datetime import date

from wizard.calc.accepted import above_zero, inside, one_of
from wizard.calc.receiver_papers import DAY, inspection_time_left, pressure_volume
from wizard.checks.rule import check
from wizard.errors import InputError
from wizard.finding import Finding, Limit, Severity, Verdict
from wizard.formula import work
from wizard.kinds import GaugePressure, Temperature, Volume
from wizard.quantities import Quantity, at_least
from wizard.sources import COMMON_PRACTICE, OUR_JUDGEMENT, Source

PLATES = ("read in full", "partly unreadable", "missing")
ACCEPTED_MARK = {
    "United States": "ASME U or UM",
    "European Union": "CE or UKCA",
    "United Kingdom": "CE or UKCA",
}
CALIFORNIA = Source("8 CCR 461 and 462", "confirmed")
BRITISH = Source("HSE INDG178, Pressure Systems Safety Regulations 2000", "confirmed")
BRITISH_LIMIT = Source("written scheme from 250 bar·L", "memory")
EUROPEAN = Source("2014/29/EU; in-service inspection is national law", "confirmed")
NO_FEDERAL = Source("29 CFR 1910.169 sets no re-test interval; states and insurers do", "confirmed")
BRITTLE = "Steel that is too cold breaks like glass, and the tank bursts at normal pressure."
UNPROVED = "Nobody knows what pressure it was built for, and it can burst at normal pressure."
SCHEME_FROM = 250.0 * 100.0
RELEVANT_FROM = 0.5e5
PERMIT_VOLUME = 1.5 * 0.3048**3
PERMIT_PRESSURE = 150.0 * 6894.757293168


@check(
    "Receiver plate and code mark",
    severity=Severity.SAFETY,
    source=(COMMON_PRACTICE, OUR_JUDGEMENT),
)
def receiver_plate(plate: str, mark: str, jurisdiction: str) -> Finding:
    """The plate is whole and carries the mark that the jurisdiction knows.

    Parameters
    ----------
    plate : str
        read in full, partly unreadable or missing
    mark : str
        ASME U or UM, CE or UKCA, other national mark, none
    jurisdiction : str
        United States, European Union, United Kingdom, other
    """
    one_of("plate", plate, PLATES)
    passed = Finding(
        Verdict.PASS,
        "The plate is read in full and carries a mark that is known here.",
        Severity.SAFETY,
        danger=UNPROVED,
    )
    if plate != "read in full":
        return replace(
            passed,
            verdict=Verdict.FAIL,
            text=f"The receiver plate is {plate}.",
            clears="Get the plate data from the maker or a pressure-vessel inspector, or replace "
            "the receiver.",
        )
    if mark == "none":
        return replace(
            passed,
            verdict=Verdict.FAIL,
            text="The receiver carries no code mark.",
            clears="Have a pressure-vessel inspector accept it, or replace the receiver.",
        )
    wanted = ACCEPTED_MARK.get(jurisdiction)
    if wanted is None:
        return replace(
            passed,
            verdict=Verdict.ADVISORY,
            severity=Severity.ADVISORY,
            text="Ask the local authority whether it accepts this mark.",
        )
    if mark != wanted:
        return replace(
            passed,
            verdict=Verdict.FAIL,
            severity=Severity.HANDOVER,
            text=f"The mark is {mark}, where {jurisdiction} expects {wanted}.",
            danger="The receiver may not be used here, and no inspector will pass it.",
            clears="Get the written acceptance of the local authority, or another receiver.",
        )
    return passed


@check(
    "Lowest site temperature against the receiver",
    severity=Severity.SAFETY,
    source=Source("plate value MDMT or T min; ASME BPVC VIII-1 UCS-66", "memory"),
)
def receiver_temperature(
    site_lowest: Temperature, plate_lowest: Temperature | None = None
) -> Finding:
    """The receiver is never under pressure colder than its plate allows.

    Parameters
    ----------
    site_lowest : float
        Lowest temperature at the machine, [K]
    plate_lowest : float, optional
        MDMT or T min on the plate, [K]
    """
    inside("lowest site temperature", site_lowest, "temperature", "°C", -60, 50)
    inside("lowest temperature on the plate", plate_lowest, "temperature", "°C", -100, 50)
    value, limit = (
        Quantity(site_lowest, "temperature"),
        Limit(plate_lowest, None, "temperature"),
    )
    if plate_lowest is None:
        return Finding(
            Verdict.INCONCLUSIVE,
            "The lowest temperature of the receiver is not on record.",
            Severity.SAFETY,
            value,
            limit,
            danger=BRITTLE,
            clears="Read MDMT or T min on the plate, or get it from the maker by serial number.",
            wants="plate_lowest",
        )
    sound = at_least(site_lowest, plate_lowest)
    return Finding(
        Verdict.PASS if sound else Verdict.FAIL,
        "The site never gets colder than the receiver allows."
        if sound
        else "The site gets colder than the receiver allows.",
        Severity.SAFETY,
        value,
        limit,
        danger=BRITTLE,
        clears="" if sound else "Heat the room, or fit a receiver built for this cold.",
    )


IN_HAND = "in hand"
ASKED = "authority asked, none required"
NONE = "none"


@check(
    "Papers that the receiver needs here",
    severity=Severity.HANDOVER,
    source=(BRITISH, BRITISH_LIMIT, CALIFORNIA, EUROPEAN, NO_FEDERAL),
    results={"product": "energy"},
)
def receiver_papers(
    jurisdiction: str, papers: str, pressure: GaugePressure, volume: Volume
) -> Finding:
    """Permit, written scheme or declaration, by jurisdiction; the strictest rule where unknown.

    Parameters
    ----------
    jurisdiction : str
        United States, European Union, United Kingdom, other
    papers : str
        in hand; authority asked, none required; none
    pressure : float
        Set pressure of the relief valve, gauge, [Pa]
    volume : float
        Receiver volume, [m3]
    """
    one_of("papers", papers, (IN_HAND, ASKED, NONE))
    above_zero("pressure", pressure, "gauge pressure")
    above_zero("receiver volume", volume, "volume")
    product, step = work(pressure_volume, pressure=pressure, volume=volume)
    law, needed = _papers_needed(jurisdiction, pressure, volume, product)
    passed = Finding(
        Verdict.PASS,
        "The papers are in hand." if papers == IN_HAND else f"{law}: none needed.",
        Severity.HANDOVER,
        Quantity(product, "energy"),
        None,
        (step,),
        danger="A receiver that nobody inspects rusts unseen until it bursts.",
        results={"product": product},
    )
    if papers == IN_HAND or not needed:
        return passed
    if papers == ASKED and jurisdiction != "United Kingdom":
        return replace(
            passed,
            verdict=Verdict.ADVISORY,
            severity=Severity.ADVISORY,
            text="The authority says that none are required; keep its answer with the record.",
        )
    return replace(
        passed,
        verdict=Verdict.FAIL,
        text=f"{law}: needed, and not in hand.",
        clears="Get the paper, or the written answer of the local authority, before handover.",
    )


def _papers_needed(
    jurisdiction: str, pressure: float, volume: float, product: float
) -> tuple[str, bool]:
    if jurisdiction == "United Kingdom":
        needed = pressure > RELEVANT_FROM and at_least(product, SCHEME_FROM)
        return "Written scheme of examination, before use", needed
    if jurisdiction == "United States":
        return "State or city permit", volume > PERMIT_VOLUME or pressure > PERMIT_PRESSURE
    if jurisdiction == "European Union":
        return "Declaration of conformity and national inspection plan", True
    return "Permit and inspection plan of the local authority", True


@check(
    "Inspection of the receiver",
    severity=Severity.HANDOVER,
    source=(CALIFORNIA, NO_FEDERAL, OUR_JUDGEMENT),
    results={"left": "time"},
)
def receiver_inspection(
    history: str,
    judged_on: date,
    last_inspection: date | None = None,
    interval_months: int | None = None,
    portable: bool = False,
) -> Finding:
    """A used receiver has been inspected inside the local interval; 5 years where unknown.

    Parameters
    ----------
    history : str
        new, or used before
    judged_on : date
        Day of judgement
    last_inspection : date, optional
        Day of the last inspection inside and out, or by ultrasonic thickness
    interval_months : int, optional
        Local interval; 60 if not known, 36 for a portable machine, [month]
    portable : bool, optional
        Whether the machine is moved from site to site
    """
    one_of("history", history, ("new", "used before"))
    if interval_months is not None and not 1 <= interval_months <= 240:
        raise InputError("interval", f"{interval_months} months", "1 to 240 months")
    months = interval_months or (36 if portable else 60)
    danger = "Rust works from the bottom inside, where nobody looks, until the wall lets go."
    if last_inspection is None:
        if history == "new":
            return Finding(
                Verdict.PASS,
                f"New receiver; its first inspection is due within {months} months.",
                Severity.HANDOVER,
                danger=danger,
            )
        return Finding(
            Verdict.FAIL,
            "A used receiver has no inspection on record.",
            Severity.HANDOVER,
            danger=danger,
            clears="Have a pressure-vessel inspector examine it inside and out.",
        )
    left, step = work(
        inspection_time_left,
        last_inspection=last_inspection,
        months=months,
        judged_on=judged_on,
    )
    sound = left >= 0
    return Finding(
        Verdict.PASS if sound else Verdict.FAIL,
        f"The inspection is inside its interval; days left: {left / DAY:.0f}."
        if sound
        else f"The inspection has run out; days over: {-left / DAY:.0f}.",
        Severity.HANDOVER,
        None,
        None,
        (step,),
        danger=danger,
        clears="" if sound else "Have a pressure-vessel inspector examine it inside and out.",
        results={"left": left},
    )
