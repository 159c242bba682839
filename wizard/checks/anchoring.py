"""Anchors: layout in the slab, torque of the nuts, preload, the foot that is backed off."""

from __future__ import annotations

from dataclasses import replace

from wizard.calc.accepted import one_of, within
from wizard.calc.anchoring import (
    ACI,
    NO_SHEET,
    anchor_distances,
    anchor_embedment,
    torque_share,
)
from wizard.calc.bolt_size import proof_strength, surfaces, thread_size
from wizard.calc.bolts import (
    TORQUE,
    back_off_travel,
    bolt_preload,
    bolt_stiffness,
    bolt_stress,
    bolt_stretch,
    proof_share,
    residual_preload,
)
from wizard.checks.rule import check
from wizard.errors import InputError
from wizard.finding import Finding, Limit, Severity, Verdict
from wizard.formula import Step, work
from wizard.kinds import Angle, Length, Stiffness, Torque
from wizard.quantities import Quantity, at_least, at_most, to_si
from wizard.sources import COMMON_PRACTICE, OUR_JUDGEMENT, Source
from wizard.tables import table

LOW, HIGH, STRAINED = 0.90, 1.10, 1.50
UNUSUAL_TORQUE = to_si(50.0, "torque", "lbf·ft")
REUSABLE = 0.75
DEFAULT_NUT_FACTOR = 0.20
UNKNOWN = "unknown"
UNLOCKED = "not locked"
LOCKS = ("jam nut", "lock nut", UNLOCKED)
WITHIN_SHEET = "compared, layout within its limits"
SHEETS = (WITHIN_SHEET, "no sheet on hand", "outside its limits")
LEAST_TURN, MOST_TURN = (to_si(a, "angle", "°") for a in (60.0, 120.0))

PROOF = Source("75 % of proof load for joints that are opened again", "confirmed")

PULLED = "A tank pulled down on an uneven floor cracks at its welds, under pressure, later."
WALKS = "An anchor lets go, the machine walks, tears off its pipe and cable."


@check(
    "Torque of the foot bolts",
    severity=Severity.SAFETY,
    source=(COMMON_PRACTICE, OUR_JUDGEMENT),
)
def anchor_torque(applied: tuple[Torque, ...], target: Torque) -> Finding:
    """Every foot within 10 % of the target, none above one and a half times.

    Parameters
    ----------
    applied : tuple
        Torque at each foot, [N·m]
    target : float
        Torque of the instruction book, 10 lbf·ft where it gives none, 0.5 to 500 lbf·ft, [N·m]
    """
    if not applied:
        raise InputError("applied", "nothing", "one torque for each foot")
    shares = [work(torque_share, applied=one, target=target) for one in applied]
    share, step = max(shares, key=lambda s: abs(s[0] - 1))
    finding = Finding(
        Verdict.PASS,
        "Every foot is within 10 % of the target.",
        Severity.SAFETY,
        Quantity(share * target, "torque"),
        Limit(LOW * target, HIGH * target, "torque"),
        (step,),
        danger=PULLED,
        ask="More than 50 lbf·ft (68 N·m) on a tank foot; was lbf·in meant?"
        if target > UNUSUAL_TORQUE
        else "",
    )
    if not at_most(max(s for s, _ in shares), STRAINED):
        return replace(
            finding,
            verdict=Verdict.FAIL,
            text="A foot is tightened to more than one and a half times the target.",
            clears="Loosen all feet, look at the welds, shim, tighten again to the target.",
        )
    if at_least(share, LOW) and at_most(share, HIGH):
        return finding
    return replace(
        finding,
        verdict=Verdict.FAIL,
        severity=Severity.HANDOVER,
        text="A foot is more than 10 % below the target."
        if share < 1
        else "A foot is more than 10 % above the target.",
        clears="Loosen it and tighten it again with the torque wrench, in one slow pull.",
    )


@check(
    "Preload of the foot bolts",
    severity=Severity.HANDOVER,
    source=(TORQUE, PROOF),
    results={"preload": "force"},
)
def preload_stress(torque: Torque, thread: str, grade: str, surface: str = UNKNOWN) -> Finding:
    """The bolt stays within 75 % of its proof strength.

    Parameters
    ----------
    torque : float
        Torque at the nut, 0.5 to 500 lbf·ft, [N·m]
    thread : str
        Thread such as 3/8-16 or M10
    grade : str
        Marking on the head, such as 8.8 or SAE grade 5
    surface : str, optional
        dry steel, oiled, zinc plated or anti-seize; K 0.20 is taken when unknown
    """
    one_of("surface", surface, (UNKNOWN, *surfaces()))
    factor = DEFAULT_NUT_FACTOR
    if surface != UNKNOWN:
        factor = float(table("nut_factors").row("surface", surface)["low"])
    size, first = work(thread_size, thread=thread)
    proof, second = work(proof_strength, grade=grade, diameter=size.diameter)
    preload, third = work(bolt_preload, torque=torque, diameter=size.diameter, nut_factor=factor)
    stress, fourth = work(bolt_stress, preload=preload, area=size.area)
    share, fifth = work(proof_share, stress=stress, proof=proof)
    sound = at_most(share, REUSABLE)
    return Finding(
        Verdict.PASS if sound else Verdict.FAIL,
        "The bolt stays within 75 % of its proof strength."
        if sound
        else "The torque takes the bolt above 75 % of its proof strength.",
        Severity.HANDOVER,
        Quantity(share, "ratio"),
        Limit(None, REUSABLE, "ratio"),
        (first, second, third, fourth, fifth),
        danger="The bolt stretches for good, loosens, and breaks later.",
        clears="" if sound else "Lower the torque, or fit a larger or stronger bolt.",
        results={"preload": preload},
    )


@check(
    "The foot that is backed off",
    severity=Severity.HANDOVER,
    source=(COMMON_PRACTICE, OUR_JUDGEMENT),
    results={"travel": "length", "residual": "force"},
)
def back_off(
    angle: Angle,
    lock: str,
    torque: Torque | None = None,
    thread: str | None = None,
    grip: Length | None = None,
    pad_stiffness: Stiffness | None = None,
) -> Finding:
    """One nut turned back a quarter turn and locked, so that the tank is not strained.

    Parameters
    ----------
    angle : float
        Angle the nut was turned back, 0 to 360°, [rad]
    lock : str
        What holds that nut: jam nut, lock nut or not locked
    torque : float, optional
        Torque before it was turned back, [N·m]
    thread : str, optional
        Thread such as 3/8-16 or M10
    grip : float, optional
        Length of the bolt between head and nut, [m]
    pad_stiffness : float, optional
        Stiffness of the pad under the foot, [N/m]
    """
    within("angle", angle, "angle", "°", 0, 360)
    one_of("lock", lock, LOCKS)
    steps, results = _what_it_does(angle, torque, thread, grip, pad_stiffness)
    finding = Finding(
        Verdict.PASS,
        "One foot is backed off a quarter turn and locked.",
        Severity.HANDOVER,
        Quantity(angle, "angle"),
        Limit(LEAST_TURN, MOST_TURN, "angle"),
        steps,
        danger=PULLED,
        results=results,
    )
    if not at_least(angle, LEAST_TURN):
        wrong, clears = "The foot is not backed off.", "Turn that nut back a quarter turn."
    elif not at_most(angle, MOST_TURN):
        wrong, clears = "The nut is turned back too far.", "Tighten it, then turn back a quarter."
    elif lock == UNLOCKED:
        wrong = "The backed-off nut is not locked; on a rigid shim no clamp is left to hold it."
        clears = "Add a jam nut or a lock nut and hold the nut while it is tightened."
    else:
        return finding
    return replace(finding, verdict=Verdict.FAIL, text=wrong, clears=clears)


def _what_it_does(
    angle: float,
    torque: float | None,
    thread: str | None,
    grip: float | None,
    pad: float | None,
) -> tuple[tuple[Step, ...], dict[str, float]]:
    """Travel of the nut, stretch of the bolt and what clamp is left, as far as known."""
    if thread is None:
        return (), {}
    size, first = work(thread_size, thread=thread)
    travel, second = work(back_off_travel, angle=angle, pitch=size.pitch)
    steps, results = [first, second], {"travel": travel}
    if torque is not None and grip is not None:
        preload, third = work(bolt_preload, torque=torque, diameter=size.diameter)
        stretch = work(bolt_stretch, preload=preload, grip=grip, area=size.area)[1]
        steps += [third, stretch]
        if pad is not None:
            bolt, fourth = work(bolt_stiffness, grip=grip, area=size.area)
            left, fifth = work(
                residual_preload, preload=preload, travel=travel, bolt=bolt, joint=pad
            )
            steps += [fourth, fifth]
            results["residual"] = left
    return tuple(steps), results


@check(
    "Layout of the anchors",
    severity=Severity.HANDOVER,
    source=(ACI, NO_SHEET),
)
def anchor_layout(
    anchor: str,
    diameter: Length,
    spacing: Length,
    edge: Length,
    embedment: Length,
    slab: Length,
    hole: Length | None = None,
    sheet: str = "no sheet on hand",
) -> Finding:
    """Spacing, edge distance and embedment against the general rules.

    Parameters
    ----------
    anchor : str
        Kind of anchor
    diameter : float
        Anchor diameter, 1/4 in to 1 in (6 mm to 25.4 mm), [m]
    spacing : float
        Least distance between two anchors, [m]
    edge : float
        Least distance from an anchor to an edge or joint of the slab, [m]
    embedment : float
        Depth of the anchor in the concrete, [m]
    slab : float
        Thickness of the slab, 50 mm to 2 m, [m]
    hole : float, optional
        Depth of the hole, [m]
    sheet : str, optional
        Approval sheet: compared, layout within its limits; no sheet on hand; outside its limits
    """
    _guard_layout(spacing, edge, embedment, slab, sheet)
    least, first = work(anchor_distances, diameter=diameter, anchor=anchor)
    depth, second = work(anchor_embedment, diameter=diameter, slab=slab, embedment=embedment)
    rules = {
        "closer together than 6 diameters": at_least(spacing, least.spacing),
        "too close to an edge": at_least(edge, least.edge),
        "less than 4 diameters deep": at_least(embedment, depth.least),
        "too deep for the slab": at_most(embedment, depth.greatest),
        "in a hole too shallow for its dust": hole is None or at_least(hole, depth.hole),
    }
    found = f"The anchors are {', '.join(text for text, kept in rules.items() if not kept)}."
    finding = Finding(
        Verdict.PASS,
        "Spacing, edge distance and embedment keep to the general rules.",
        Severity.HANDOVER,
        working=(first, second),
        danger=WALKS,
    )
    if all(rules.values()):
        return finding
    if sheet == WITHIN_SHEET:
        return replace(
            finding,
            verdict=Verdict.ADVISORY,
            severity=Severity.ADVISORY,
            text=f"{found} The approval sheet allows it.",
            clears="Keep the approval sheet with the record.",
        )
    return replace(
        finding,
        verdict=Verdict.FAIL,
        text=found,
        clears="Move the anchors, or have an engineer or the anchor's approval sheet allow it.",
    )


def _guard_layout(spacing: float, edge: float, embedment: float, slab: float, sheet: str) -> None:
    for name, value in (("spacing", spacing), ("edge", edge), ("embedment", embedment)):
        within(name, value, "length", "mm", 0, 10_000)
    within("slab", slab, "length", "mm", 50, 2000)
    one_of("sheet", sheet, SHEETS)
