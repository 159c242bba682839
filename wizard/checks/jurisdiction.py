"""The place of installation against the electrical practice that the job is judged by."""

from __future__ import annotations

from wizard.calc.accepted import one_of
from wizard.checks.rule import check
from wizard.finding import Finding, Severity, Verdict
from wizard.sources import Source

PRACTICE_OF = {"United States": "US", "European Union": "IEC", "United Kingdom": "IEC"}
PLACES = (*PRACTICE_OF, "other")


@check(
    "Electrical practice goes with the place",
    severity=Severity.HANDOVER,
    source=Source("29 CFR 1910.302 to 308 and NEC; HD 60364; BS 7671", "memory"),
)
def electrical_practice(jurisdiction: str, practice: str) -> Finding:
    """Wiring is judged by the rules of the place: US rules, or those that follow IEC 60364.

    Parameters
    ----------
    jurisdiction : str
        United States, European Union, United Kingdom or other
    practice : str
        Electrical practice of the job, US or IEC
    """
    one_of("jurisdiction", jurisdiction, PLACES)
    one_of("practice", practice, ("US", "IEC"))
    wanted = PRACTICE_OF.get(jurisdiction)
    if wanted is None:
        return Finding(
            Verdict.PASS,
            f"This job is judged by {practice} electrical practice: make sure that it applies "
            "there.",
            Severity.HANDOVER,
        )
    if wanted == practice:
        return Finding(
            Verdict.PASS,
            f"This job is judged by {practice} electrical practice, as the place wants it.",
            Severity.HANDOVER,
        )
    return Finding(
        Verdict.FAIL,
        f"This job is judged by {practice} electrical practice, but {jurisdiction} goes by "
        f"{wanted}.",
        Severity.HANDOVER,
        danger="Wire, breaker and protective conductor pass by rules that do not apply there.",
        clears="Correct the place, or start the job with the other practice: "
        f"“wizard new NUMBER --machine THIS-JOB.toml --practice {wanted}” takes the plates over.",
    )
