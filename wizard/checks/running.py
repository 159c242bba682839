"""The running machine: sounds, vibration, and the stop list.

Invariant: a sound that means damage stops the machine, whatever the numbers say.
"""

from __future__ import annotations

from dataclasses import replace

from wizard.calc.accepted import inside, one_of
from wizard.checks.rule import check
from wizard.finding import Finding, Limit, Severity, Verdict
from wizard.kinds import VibrationVelocity
from wizard.quantities import Quantity, at_least, at_most
from wizard.sources import COMMON_PRACTICE, OUR_JUDGEMENT, Source
from wizard.tables import table

ZONES = Source("ISO 20816-8:2018 zones, rigid foundation, for comparison only", "memory")
PIPE_LIMIT = Source("ISO 20816-8:2018 zone boundary C/D of piping", "memory")
SHAKE = "Shaking cracks pipes, tank feet and welds, and a cracked line lets go under pressure."


@check(
    "Sound of the running machine",
    severity=Severity.SAFETY,
    source=(COMMON_PRACTICE, OUR_JUDGEMENT),
)
def running_sound(sound: str) -> Finding:
    """What is heard, seen or smelled, and whether to stop.

    Parameters
    ----------
    sound : str
        One of the sounds and signs on the list
    """
    sounds = table("running_sounds")
    one_of("sound", sound, tuple(row["sound"] for row in sounds.rows))
    row = sounds.row("sound", sound)
    if row["severity"] == "none":
        return Finding(Verdict.PASS, "It runs evenly.", Severity.SAFETY)
    stop = row["severity"] == "safety"
    return Finding(
        Verdict.FAIL,
        f"Found: {sound}. Likely cause: {row['meaning']}.",
        Severity.SAFETY if stop else Severity.HANDOVER,
        danger="Parts that break inside a running pump can come out of it."
        if stop
        else "The damage grows while it runs.",
        clears=row["action"],
    )


@check(
    "Vibration by place",
    severity=Severity.HANDOVER,
    source=(OUR_JUDGEMENT, PIPE_LIMIT),
)
def vibration(place: str, velocity: VibrationVelocity) -> Finding:
    """Rms velocity on a tank-mounted machine, largest of three directions, loaded.

    Parameters
    ----------
    place : str
        pump feet, tank foot, motor bearing or pipe
    velocity : float
        Largest rms velocity of the three directions, [m/s]
    """
    limits = table("vibration_limits")
    one_of("place", place, (*(row["place"] for row in limits.rows), "pipe"))
    inside("vibration", velocity, "vibration velocity", "mm/s", 0, 1000)
    value = Quantity(velocity, "vibration velocity")
    ask = "Is it rms in the unit typed? It is far above what machines do." if velocity > 0.1 else ""
    if place == "pipe":
        sound = at_most(velocity, 28.5e-3)
        note, repair = None, 28.5e-3
    else:
        row = limits.row("place", place)
        note, repair = row["note"], row["repair"]
        sound = not at_least(velocity, repair)
    limit = Limit(None, repair, "vibration velocity")
    if not sound:
        return Finding(
            Verdict.FAIL,
            "It shakes too much here.",
            Severity.HANDOVER,
            value,
            limit,
            danger=SHAKE,
            clears="Look for loose or soft feet, loose bolts, pipe strain and a bent sheave.",
            ask=ask,
        )
    if note is not None and not at_most(velocity, note):
        return Finding(
            Verdict.ADVISORY,
            "It shakes more than is usual here.",
            Severity.ADVISORY,
            value,
            Limit(None, note, "vibration velocity"),
            danger=SHAKE,
            clears="Note it and compare at the first service; a rising number matters most.",
        )
    return Finding(
        Verdict.PASS, "The vibration is usual for this place.", Severity.HANDOVER, value, limit
    )


@check("Vibration zone", severity=Severity.HANDOVER, source=ZONES)
def vibration_zone(place: str, velocity: VibrationVelocity, rigid: bool = False) -> Finding:
    """Zone A to D as for a rigid foundation; on a tank top the zone is told, not judged.

    Parameters
    ----------
    place : str
        foundation; frame; cylinder, sideways; piping
    velocity : float
        Rms velocity, [m/s]
    rigid : bool, optional
        Whether the pump stands on a rigid foundation instead of a tank
    """
    zones = table("vibration_zones")
    one_of("place", place, tuple(row["place"] for row in zones.rows))
    inside("vibration", velocity, "vibration velocity", "mm/s", 0, 1000)
    row = zones.row("place", place)
    zone = "ABCD"[sum(at_least(velocity, row[end]) for end in ("a_b", "b_c", "c_d"))]
    told = Finding(
        Verdict.NOT_APPLICABLE,
        f"Zone {zone} of a rigid foundation, for comparison: a tank top is not one.",
        Severity.HANDOVER,
        Quantity(velocity, "vibration velocity"),
        Limit(None, row["b_c"], "vibration velocity"),
        danger=SHAKE,
    )
    if not rigid:
        return told
    if zone in "AB":
        return replace(told, verdict=Verdict.PASS, text=f"Zone {zone}: sound for long running.")
    if zone == "C":
        return replace(
            told,
            verdict=Verdict.ADVISORY,
            severity=Severity.ADVISORY,
            text="Zone C: not for long running; plan a repair.",
        )
    return replace(
        told,
        verdict=Verdict.FAIL,
        text="Zone D: it damages itself.",
        limit=Limit(None, row["c_d"], "vibration velocity"),
        clears="Stop it and find out why before it runs on.",
    )
