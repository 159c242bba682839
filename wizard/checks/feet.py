"""Feet before they are clamped: gaps, motor soft foot, shims."""

from __future__ import annotations

from dataclasses import replace

from wizard.calc.anchoring import largest_gap
from wizard.checks.rule import check
from wizard.errors import InputError
from wizard.finding import Finding, Limit, Severity, Verdict
from wizard.formula import work
from wizard.kinds import Length
from wizard.quantities import Quantity, at_most, to_si
from wizard.sources import COMMON_PRACTICE, Source

FOOT_GAP = to_si(0.020, "length", "in")
SOFT_FOOT = to_si(0.002, "length", "in")
IMPLAUSIBLE_GAP = to_si(0.5, "length", "in")
IMPLAUSIBLE_FOOT = to_si(0.040, "length", "in")
MOST_SHIMS = 5


@check(
    "Gap under the feet",
    severity=Severity.HANDOVER,
    source=COMMON_PRACTICE,
    results={"gap": "length"},
)
def foot_gap(gaps: tuple[Length, ...]) -> Finding:
    """No foot more than 0.5 mm (0.020 in) off its support before bolts are tight.

    Parameters
    ----------
    gaps : tuple
        Largest feeler that slides under each foot, nothing clamped, 0 to 50 mm, [m]
    """
    gap, step = work(largest_gap, gaps=gaps)
    sound = at_most(gap, FOOT_GAP)
    return Finding(
        Verdict.PASS if sound else Verdict.FAIL,
        "Every foot rests on its support."
        if sound
        else "A foot stands off its support by more than 0.5 mm (0.020 in).",
        Severity.HANDOVER,
        Quantity(gap, "length"),
        Limit(None, FOOT_GAP, "length"),
        (step,),
        danger="Pulling that foot down bends the tank; its welds crack under pressure later.",
        clears="" if sound else "Shim that foot with full-size shims, then measure all feet again.",
        ask="Half an inch under a foot; typed in the wrong unit?" if gap > IMPLAUSIBLE_GAP else "",
        results={"gap": gap},
    )


@check(
    "Soft foot of the motor",
    severity=Severity.HANDOVER,
    source=Source("alignment practice", "memory"),
    results={"movement": "length"},
)
def soft_foot(movements: tuple[Length, ...]) -> Finding:
    """The motor does not move more than 0.05 mm (0.002 in) when one bolt is loosened.

    Parameters
    ----------
    movements : tuple
        Movement at each foot as its own bolt is loosened, 0 to 50 mm, [m]
    """
    movement, step = work(largest_gap, gaps=movements)
    sound = at_most(movement, SOFT_FOOT)
    return Finding(
        Verdict.PASS if sound else Verdict.FAIL,
        "No soft foot at the motor."
        if sound
        else "A motor foot moves by more than 0.05 mm (0.002 in).",
        Severity.HANDOVER,
        Quantity(movement, "length"),
        Limit(None, SOFT_FOOT, "length"),
        (step,),
        danger="The frame is bent, bearings and belts run crooked and hot.",
        clears="" if sound else "Shim that foot by the movement, tighten, measure all feet again.",
        ask="Typed in the wrong unit? Soft feet are a few hundredths of a millimetre."
        if movement > IMPLAUSIBLE_FOOT
        else "",
        results={"movement": movement},
    )


@check(
    "Shims under a foot",
    severity=Severity.HANDOVER,
    source=COMMON_PRACTICE,
)
def shim_stack(count: int, full_size: bool = True) -> Finding:
    """At most five shims in a stack, each as large as the foot.

    Parameters
    ----------
    count : int
        Shims in the highest stack, 0 to 50
    full_size : bool, optional
        Whether every shim covers the whole foot
    """
    if not 0 <= count <= 50:
        raise InputError("count", str(count), "0 to 50")
    finding = Finding(
        Verdict.PASS,
        "Few shims, as large as the foot.",
        Severity.HANDOVER,
        Quantity(float(count), "number"),
        Limit(None, float(MOST_SHIMS), "number"),
        danger="A high or small stack works like a spring and is spat out.",
    )
    if count <= MOST_SHIMS and (full_size or not count):
        return finding
    return replace(
        finding,
        verdict=Verdict.FAIL,
        text="More than five shims in a stack." if count > MOST_SHIMS else "A shim is too small.",
        clears="Replace the stack by one thick plate and at most a few shims of full size.",
    )
