"""Belt tension: each limit, the builder's band, new belts, unknown mass, questions."""

from __future__ import annotations

from typing import Any

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from wizard.calc.belt import free_span
from wizard.checks.belt_tension import belt_force, belt_frequency
from wizard.errors import InputError
from wizard.finding import Finding, Severity, Verdict

GEOMETRY: dict[str, Any] = {
    "centre_distance": 0.750,
    "pump_sheave": 0.400,
    "motor_sheave": 0.112,
}
DRIVE: dict[str, Any] = {
    **GEOMETRY,
    "motor_speed": 1455 / 60,
    "power": 5500.0,
    "belts": 2,
    "mass": 0.18,
}
SPAN = 0.73604620
DEFLECTION = SPAN / 64
NEEDED = 357.663
"""Needed tension of the drive, N: its sixteenth is the least force at the test deflection."""


def push(*shares: float, off: float = 1.0, **more: Any) -> Finding:
    force = tuple(share * NEEDED / 16 * off for share in shares)
    return belt_force(force, DEFLECTION * off, **{**DRIVE, **more})


def test_the_needed_tension_of_a_drive() -> None:
    finding = push(1.2)
    assert finding.results["needed_tension"] == pytest.approx(NEEDED, abs=0.1)
    assert finding.results["tension"] == pytest.approx(1.2 * NEEDED, rel=1e-6)


@pytest.mark.parametrize(
    ("share", "verdict"),
    [(0.98, Verdict.FAIL), (1.01, Verdict.PASS), (1.49, Verdict.PASS), (1.52, Verdict.FAIL)],
)
def test_run_in_belts(share: float, verdict: Verdict) -> None:
    finding = push(share, state="run in")
    assert (finding.verdict, finding.severity) == (verdict, Severity.HANDOVER)


@pytest.mark.parametrize(
    ("share", "verdict"),
    [
        (0.98, Verdict.FAIL),
        (1.28, Verdict.ADVISORY),
        (1.32, Verdict.PASS),
        (1.49, Verdict.PASS),
        (1.52, Verdict.FAIL),
    ],
)
def test_new_belts_start_near_the_top(share: float, verdict: Verdict) -> None:
    assert push(share, state="new").verdict is verdict


def test_the_slackest_and_the_tightest_belt_both_count() -> None:
    assert "slackest belt is" in push(0.9, 1.2).text
    tight = push(1.2, 1.6)
    assert "tightest belt is" in tight.text and "break" in tight.danger
    assert tight.value and tight.value.value == pytest.approx(1.6 * NEEDED / 16)


def test_exactly_on_the_builders_limits_passes() -> None:
    for force, verdict in (
        (20.0, Verdict.PASS),
        (30.0, Verdict.PASS),
        (19.99, Verdict.FAIL),
        (30.01, Verdict.FAIL),
    ):
        finding = belt_force((force,), DEFLECTION, **DRIVE, builder_force=(20.0, 30.0))
        assert finding.verdict is verdict
        assert finding.results["needed_tension"] == pytest.approx(20 * 16, rel=1e-6)


def test_builders_force_must_be_a_band() -> None:
    with pytest.raises(InputError, match=r"given 6\.744 lbf \(30 N\), 4\.496 lbf \(20 N\)"):
        belt_force((25.0,), DEFLECTION, **DRIVE, builder_force=(30.0, 20.0))


def test_a_deflection_far_off_is_inconclusive_and_a_little_off_is_allowed_for() -> None:
    assert push(1.2, off=1.11).verdict is Verdict.INCONCLUSIVE
    assert push(0.99, off=1.05).verdict is Verdict.FAIL
    assert push(1.01, off=1.05).verdict is Verdict.PASS


def test_without_mass_or_known_section_nothing_is_judged() -> None:
    for section in (None, "other"):
        finding = push(1.2, mass=None, section=section)
        assert finding.verdict is Verdict.INCONCLUSIVE
        assert finding.check == "belt_force" and finding.severity is Severity.HANDOVER
    assert push(1.2, mass=None, section="B or BX").verdict is Verdict.PASS


def test_a_stiff_belt_shows_less_tension() -> None:
    plain, stiff = push(1.2), push(1.2, stiffness=20.0)
    lost = plain.results["tension"] - stiff.results["tension"]
    assert lost == pytest.approx(20.0 * SPAN / 2.33198, rel=1e-4)


def test_a_force_far_from_need_is_asked_about() -> None:
    newtons_typed_as_pounds, pounds_typed_as_newtons = 1.2 * 4.448, 1.2 / 4.448
    assert "force on one belt" in push(newtons_typed_as_pounds).ask
    assert "force on one belt" in push(pounds_typed_as_newtons).ask
    assert push(1.2).ask == push(0.9).ask == push(1.6).ask == ""


def test_force_of_nothing_is_refused() -> None:
    with pytest.raises(InputError, match="force: given 0 lbf"):
        belt_force((0.0,), DEFLECTION, **DRIVE)


@given(st.floats(0.2, 3.0), st.floats(1.0, 2.0))
def test_a_tighter_belt_never_reads_slacker(share: float, more: float) -> None:
    assert push(share * more).results["tension"] >= push(share).results["tension"]


def pluck(*shares: float, state: str = "run in", needed: float = 280.0) -> Finding:
    """Readings that stand for these shares of the needed tension."""
    heard = tuple((share * needed / (4 * 0.18 * SPAN**2)) ** 0.5 for share in shares)
    return belt_frequency(heard, **GEOMETRY, needed=needed, mass=0.18, state=state)


@pytest.mark.parametrize(
    ("share", "verdict"),
    [
        (0.845, Verdict.FAIL),
        (0.855, Verdict.ADVISORY),
        (0.995, Verdict.ADVISORY),
        (1.005, Verdict.PASS),
        (1.495, Verdict.PASS),
        (1.505, Verdict.ADVISORY),
        (1.72, Verdict.ADVISORY),
        (1.73, Verdict.FAIL),
    ],
)
def test_pitch(share: float, verdict: Verdict) -> None:
    assert pluck(share).verdict is verdict


def test_pitch_of_new_belts_is_judged_by_the_band_of_new_belts() -> None:
    assert pluck(1.31, state="new").verdict is Verdict.PASS
    assert pluck(1.29, state="new").verdict is Verdict.ADVISORY
    assert pluck(0.8, state="new").verdict is Verdict.FAIL


@given(st.floats(0.5, 2.2), st.sampled_from(["new", "run in"]), st.booleans())
def test_force_and_pitch_of_one_tension_are_judged_alike(
    share: float, state: str, builder: bool
) -> None:
    """One belt, pushed and plucked; nearer to a limit than 15 % the pitch only advises."""
    papers: dict[str, Any] = {"builder_force": (NEEDED / 16, 1.2 * NEEDED / 16)} if builder else {}
    pushed = push(share, state=state, **papers)
    needed, most = (pushed.results[key] for key in ("needed_tension", "most_tension"))
    tension = pushed.results["tension"]
    assume(all(abs(tension / end - 1) > 1e-6 for end in (needed, 1.3 * needed, most)))
    heard = (tension / (4 * 0.18 * SPAN**2)) ** 0.5
    plucked = belt_frequency((heard,), **GEOMETRY, needed=needed, mass=0.18, state=state, most=most)
    if pushed.verdict is Verdict.FAIL:
        assert plucked.verdict in (Verdict.FAIL, Verdict.ADVISORY)
    else:
        assert plucked.verdict is pushed.verdict


def test_a_belt_of_a_small_fast_sheave_is_as_tight_as_the_tables_of_belt_makers_want_it() -> None:
    """A section, sheave 3.0 to 3.6 in, above 2500 rpm: 2.8 lbf run in, 4.2 lbf new (memory)."""
    inch, pound = 0.0254, 4.4482216152605
    drive = (18 * inch, 14 * inch, 3.5 * inch)
    deflection = free_span(*drive) / 64
    finding = belt_force(
        (15.0,), deflection, *drive, 3450 / 60, 3 * 745.69987158227, 1, section="A or AX"
    )
    assert finding.limit and finding.limit.low and finding.limit.high
    assert finding.limit.low / pound == pytest.approx(2.8, rel=0.1)
    assert finding.limit.high / pound == pytest.approx(4.2, rel=0.1)


def test_readings_that_disagree_say_nothing() -> None:
    assert pluck(1.2, 1.22, 1.18).verdict is Verdict.PASS
    finding = pluck(1.0, 1.02, 1.2)
    assert finding.verdict is Verdict.INCONCLUSIVE and "do not agree" in finding.text


def test_pitch_without_mass_says_nothing() -> None:
    finding = belt_frequency((25.0,), **GEOMETRY, needed=280.0)
    assert finding.verdict is Verdict.INCONCLUSIVE and finding.check == "belt_frequency"
