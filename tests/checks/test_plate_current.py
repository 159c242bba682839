"""The plate current against power, volts, efficiency and power factor of the plate."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tests.demo.maker import commission, scenario
from wizard import actions
from wizard.actions import Hand, NeedsConfirmation
from wizard.checks.plate_current import plate_current
from wizard.errors import InputError
from wizard.finding import Verdict
from wizard.job import Job

PLATE = {"power": 7500.0, "voltage": 400.0, "phases": "three"}
FOLLOWS = 7500.0 / (3**0.5 * 400.0 * 0.89 * 0.84)


@pytest.mark.parametrize(
    ("share", "verdict"),
    [
        (1.0, Verdict.PASS),
        (0.9, Verdict.PASS),
        (1.1, Verdict.PASS),
        (0.8999, Verdict.ADVISORY),
        (1.1001, Verdict.ADVISORY),
        (3**0.5, Verdict.ADVISORY),
    ],
)
def test_ten_per_cent_either_way_and_no_more(share: float, verdict: Verdict) -> None:
    found = plate_current(share * FOLLOWS, **PLATE, efficiency=0.89, power_factor=0.84)  # type: ignore[arg-type]
    assert found.verdict is verdict
    assert bool(found.ask) is (verdict is Verdict.ADVISORY)
    assert found.results["follows"] == pytest.approx(FOLLOWS)
    assert "common practice, no source" in " ".join(s.text for s in found.sources)


def test_one_phase_goes_without_the_root_of_three() -> None:
    good = 3700.0 / (230.0 * 0.84 * 0.95)
    for amperes, verdict in ((good, Verdict.PASS), (good / 3**0.5, Verdict.ADVISORY)):
        assert plate_current(amperes, 3700.0, 230.0, "single", 0.84, 0.95).verdict is verdict


def test_a_plate_without_the_two_figures_is_not_judged() -> None:
    for known in ({}, {"efficiency": 0.89}, {"power_factor": 0.84}):
        found = plate_current(46.0, **PLATE, **known)  # type: ignore[arg-type]
        assert (found.verdict, found.ask) == (Verdict.NOT_APPLICABLE, "")


def test_what_is_no_efficiency_is_refused() -> None:
    with pytest.raises(InputError, match="efficiency"):
        plate_current(14.5, 7500.0, 400.0, "three", 1.2, 0.84)


@given(st.floats(1000, 20000), st.floats(0.7, 0.95), st.floats(0.6, 0.97), st.floats(0.2, 5))
def test_a_current_that_passes_still_passes_nearer_to_what_follows(
    power: float, efficiency: float, factor: float, share: float
) -> None:
    follows = power / (3**0.5 * 400.0 * efficiency * factor)
    near = follows * (1 + (share - 1) / 2)
    far, nearer = (
        plate_current(amperes, power, 400.0, "three", efficiency, factor).verdict
        for amperes in (follows * share, near)
    )
    assert nearer is Verdict.PASS or far is Verdict.ADVISORY


def typed(until: str, key: str, text: str) -> Job:
    """A metric job up to the item `until`, and then `text` typed for `key`."""
    job = commission("P1", scenario("metric_7_5_kw"), until=until)
    hand = Hand("Tess Example", job.events[-1].at)
    return actions.answer(job, key, text, hand)


@pytest.mark.parametrize("text", ["46", "4,6", "25 A", "8,4 A"])
def test_an_iec_job_asks_about_an_ampere_figure_as_a_us_job_does(text: str) -> None:
    with pytest.raises(NeedsConfirmation, match="A motor of this power and voltage takes"):
        typed("motor.frequency", "motor.current", text)


def test_the_last_figure_of_the_plate_tells_that_they_do_not_go_together() -> None:
    typed("motor.efficiency", "motor.power_factor", "0,84")
    with pytest.raises(NeedsConfirmation, match=r"come to 20\.3 A, its current says 14\.6 A"):
        typed("motor.efficiency", "motor.power_factor", "0,6")
