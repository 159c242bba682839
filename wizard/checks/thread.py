"""Taper pipe threads: counted turns by hand and with the wrench."""

from __future__ import annotations

from dataclasses import replace

from wizard.calc.thread import thread_make_up
from wizard.checks.rule import check
from wizard.errors import InputError
from wizard.finding import Finding, Limit, Severity, Verdict
from wizard.formula import work
from wizard.kinds import Number
from wizard.quantities import Quantity, at_least, at_most
from wizard.sources import COMMON_PRACTICE, OUR_JUDGEMENT, Source
from wizard.tables import table

THREAD_TABLE = Source("ASME B1.20.1 make-up as quoted in fitting tables", "confirmed")


@check(
    "Turns of a taper thread",
    severity=Severity.HANDOVER,
    source=(THREAD_TABLE, COMMON_PRACTICE, OUR_JUDGEMENT),
    results={"make_up": "length"},
)
def thread_turns(size: str, hand_turns: Number, wrench_turns: Number) -> Finding:
    """Three turns or more by hand, then 1.5 to 3.5 with the wrench.

    Parameters
    ----------
    size : str
        Nominal size, 1/8 to 2, in inches
    hand_turns : float
        Turns until hand-tight, in quarters, [-]
    wrench_turns : float
        Further turns with the wrench, in quarters, [-]
    """
    for what, turns in (("hand turns", hand_turns), ("wrench turns", wrench_turns)):
        if not 0 <= turns <= 8 or (4 * turns) % 1:
            raise InputError(what, f"{turns:g}", "0 to 8 in quarter turns")
    make_up, step = work(thread_make_up, size=size, turns=wrench_turns)
    usual = table("npt_threads").row("size", size)
    passed = Finding(
        Verdict.PASS,
        f"Made up well; the table gives {usual['hand_turns']:g} turns by hand and "
        f"{usual['wrench_turns']:g} with the wrench.",
        Severity.HANDOVER,
        Quantity(wrench_turns, "number"),
        Limit(1.5, 3.5, "number"),
        (step,),
        danger="A loose joint leaks or lets go; a forced one cracks the tank boss.",
        results={"make_up": make_up},
    )
    if not at_least(hand_turns, 3.0):
        return replace(
            passed,
            verdict=Verdict.FAIL,
            text="Fewer than three turns engage by hand.",
            value=Quantity(hand_turns, "number"),
            limit=Limit(3.0, None, "number"),
            clears="Take it apart, check both threads for kind and damage, and make it again.",
        )
    if not at_least(wrench_turns, 1.5):
        return replace(
            passed,
            verdict=Verdict.FAIL,
            text="Fewer than one and a half turns with the wrench: the joint is loose.",
            clears="With no pressure, turn it further with a second wrench on the valve; "
            "never back off.",
        )
    if not at_most(wrench_turns, 3.5):
        return replace(
            passed,
            verdict=Verdict.ADVISORY,
            severity=Severity.ADVISORY,
            text="More than three and a half turns with the wrench can crack cast iron.",
            clears="Look for cracks in the boss, and soap it at the first pressure.",
        )
    return passed
