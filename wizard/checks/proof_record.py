"""The maker's proof test, read from plate or papers and never repeated on site."""

from __future__ import annotations

from wizard.calc.accepted import above_zero
from wizard.calc.receiver_papers import hydrostatic_proof_pressure
from wizard.checks.rule import check
from wizard.finding import Finding, Limit, Severity, Verdict
from wizard.formula import work
from wizard.kinds import GaugePressure
from wizard.quantities import Quantity, at_least
from wizard.sources import OUR_JUDGEMENT, Source


@check(
    "Maker's proof pressure against the receiver's limit",
    severity=Severity.ADVISORY,
    source=(
        Source(
            "ASME BPVC VIII-1 UG-99: 1.3, before the 1999 addenda 1.5; 2014/29/EU: 1.5", "memory"
        ),
        OUR_JUDGEMENT,
    ),
)
def proof_record(mawp: GaugePressure, proof: GaugePressure | None = None) -> Finding:
    """The papers show a water test at 1.3 times the limit or more, the least of the known rules.

    Parameters
    ----------
    mawp : float
        Maximum allowable working pressure, gauge, [Pa]
    proof : float, optional
        Proof pressure on plate or certificate, gauge, [Pa]
    """
    above_zero("receiver limit", mawp, "gauge pressure")
    above_zero("proof pressure", proof, "gauge pressure")
    least, step = work(hydrostatic_proof_pressure, mawp=mawp)
    limit = Limit(least, None, "gauge pressure")
    danger = "A receiver that was never proved can burst at normal pressure."
    if proof is None:
        return Finding(
            Verdict.PASS,
            "No proof pressure on the papers at hand; the builder has the certificate.",
            Severity.ADVISORY,
            None,
            limit,
            (step,),
            danger=danger,
        )
    sound = at_least(proof, least)
    return Finding(
        Verdict.PASS if sound else Verdict.ADVISORY,
        "The papers show a sound proof test."
        if sound
        else "The proof pressure is below 1.3 times the receiver's limit.",
        Severity.ADVISORY,
        Quantity(proof, "gauge pressure"),
        limit,
        (step,),
        danger=danger,
        clears="" if sound else "Ask the maker which rule it was proved by.",
    )
