"""Stored energy: where nobody stands, and why air is not used to prove a part.

Invariant: the tool never leads a pneumatic proof test.
"""

from __future__ import annotations

from wizard.calc.accepted import above_zero, one_of
from wizard.calc.gas import STANDARD_PRESSURE
from wizard.calc.stored_energy import (
    PCC_2,
    car_speed,
    proof_test_distance,
    stored_energy_brode,
    stored_energy_isentropic,
    stored_energy_pcc2,
    tnt_equivalent,
)
from wizard.checks.rule import check
from wizard.checks.unusual import unusual_pressure
from wizard.finding import Finding, Limit, Severity, Verdict
from wizard.formula import work
from wizard.kinds import AbsolutePressure, GaugePressure, Volume
from wizard.quantities import Quantity, at_most
from wizard.sources import OUR_JUDGEMENT, Source

HAZARDOUS = Source(
    "University of California, Berkeley, EH&S pressure safety: above 100 kJ highly hazardous",
    "confirmed",
)
THRESHOLD = 100e3
EXCLUSION = (
    "Nobody stands in line with heads, seams, drain or relief outlet during the first "
    "pressurisation, and hands stay off the joints."
)


@check(
    "Energy stored in the receiver",
    severity=Severity.ADVISORY,
    source=(PCC_2, HAZARDOUS),
    results={"energy": "energy", "tnt": "mass", "car_speed": "speed"},
)
def stored_energy(
    volume: Volume, pressure: GaugePressure, ambient: AbsolutePressure = STANDARD_PRESSURE
) -> Finding:
    """The number that decides where people stand.

    Parameters
    ----------
    volume : float
        Receiver volume, [m3]
    pressure : float
        Highest pressure it can reach, gauge, [Pa]
    ambient : float, optional
        Air pressure around it, [Pa]
    """
    above_zero("receiver volume", volume, "volume")
    above_zero("pressure", pressure, "gauge pressure")
    above_zero("ambient", ambient, "absolute pressure")
    energy, main = work(stored_energy_pcc2, pressure=pressure, volume=volume, ambient=ambient)
    _, lower = work(stored_energy_isentropic, pressure=pressure, volume=volume, ambient=ambient)
    _, upper = work(stored_energy_brode, pressure=pressure, volume=volume)
    tnt, tnt_step = work(tnt_equivalent, energy=energy)
    speed, car_step = work(car_speed, energy=energy)
    small = at_most(energy, THRESHOLD)
    return Finding(
        Verdict.PASS if small else Verdict.ADVISORY,
        f"As much energy as a car at {speed * 3.6:.0f} km/h ({speed / 0.44704:.0f} mph). "
        + ("Keep hands off joints under pressure." if small else EXCLUSION),
        Severity.ADVISORY,
        Quantity(energy, "energy"),
        Limit(None, THRESHOLD, "energy"),
        (main, lower, upper, tnt_step, car_step),
        danger="A tank or fitting that lets go throws metal across the room.",
        clears="" if small else "Keep the area clear until the pressure is known to be held.",
        ask=unusual_pressure("pressure", pressure),
        results={"energy": energy, "tnt": tnt, "car_speed": speed},
    )


PROOF_TESTS = (
    "no test above working pressure",
    "water test by a competent person",
    "test with air above working pressure",
)


@check(
    "Proof test of vessel or pipe",
    severity=Severity.SAFETY,
    source=(Source("ASME PCC-2 Appendix 501-III", "confirmed"), OUR_JUDGEMENT),
    results={"distance": "length"},
)
def proof_test(method: str, volume: Volume, pressure: GaugePressure) -> Finding:
    """A proof test with air is an engineering job with an exclusion zone; it is refused here.

    Parameters
    ----------
    method : str
        What is planned: no test above working pressure, a water test, or a test with air
    volume : float
        Volume under test, [m3]
    pressure : float
        Test pressure, gauge, [Pa]
    """
    one_of("method", method, PROOF_TESTS)
    above_zero("volume", volume, "volume")
    above_zero("pressure", pressure, "gauge pressure")
    energy, energy_step = work(stored_energy_pcc2, pressure=pressure, volume=volume)
    distance, step = work(proof_test_distance, energy=energy)
    refused = method == PROOF_TESTS[2]
    return Finding(
        Verdict.FAIL if refused else Verdict.PASS,
        "A proof test with air is refused: it wants an engineer and everybody at least "
        f"{distance:.0f} m ({distance / 0.3048:.0f} ft) away."
        if refused
        else "Nothing is proved with air.",
        Severity.SAFETY,
        Quantity(energy, "energy"),
        None,
        (energy_step, step),
        danger="A part that fails under air bursts like a bomb; under water it only leaks.",
        clears="Drop the air test. Leak-test at working pressure with soap; a proof test is "
        "done with water by a competent person."
        if refused
        else "",
        results={"distance": distance},
    )
