"""Place, air and floor: every limit on, inside and outside, and what cannot be judged."""

from __future__ import annotations

from datetime import date

import pytest
from hypothesis import given
from hypothesis import strategies as st

from wizard.checks.calibration import calibration_in_date
from wizard.checks.floor import floor_bearing, floor_load, machine_level
from wizard.checks.location import room_temperature, wall_clearance
from wizard.checks.ventilation import louver_area, room_warming, ventilation_air
from wizard.checks.working_space import (
    panel_headroom,
    panel_width,
    panel_working_space,
    supply_to_ground,
)
from wizard.errors import InputError
from wizard.finding import ORDER, Severity, Verdict
from wizard.quantities import to_si

POUND, INCH, FOOT = 0.45359237, 0.0254, 0.3048
WYE = "wye with grounded neutral"


@pytest.mark.parametrize(
    ("inches", "verdict"),
    [(11.99, Verdict.FAIL), (12.0, Verdict.ADVISORY), (23.9, Verdict.ADVISORY), (24, Verdict.PASS)],
)
def test_distance_to_the_wall(inches: float, verdict: Verdict) -> None:
    assert wall_clearance(inches * INCH).verdict is verdict


def test_305_mm_is_as_good_as_12_inches() -> None:
    assert wall_clearance(0.305).verdict is wall_clearance(12 * INCH).verdict


@pytest.mark.parametrize(
    ("volts", "opposite", "feet"),
    [
        (120.0, "live", 3.0),
        (150.0, "grounded", 3.0),
        (151.0, "nothing", 3.0),
        (277.0, "grounded", 3.5),
        (480.0, "live", 4.0),
    ],
)
def test_depth_in_front_of_the_panel(volts: float, opposite: str, feet: float) -> None:
    assert panel_working_space(feet * FOOT, volts, opposite).verdict is Verdict.PASS
    assert panel_working_space((feet - 0.01) * FOOT, volts, opposite).holds


@pytest.mark.parametrize("opposite", ["nothing", "grounded", "live"])
def test_by_iec_practice_the_gangway_counts_and_no_us_clause(opposite: str) -> None:
    found = panel_working_space(0.9, 231.0, opposite, "IEC")
    assert found.verdict is Verdict.PASS
    assert [s.mark for s in found.sources] == ["memory"] and "IEC" in found.sources[0].text
    assert panel_working_space(0.699, 231.0, opposite, "IEC").holds
    assert not panel_working_space(0.9, 400.0, opposite, "IEC").ask
    assert panel_width(0.7, 0.6, "IEC").verdict is Verdict.PASS
    assert panel_width(0.7, 0.8, "IEC").holds and panel_width(0.7, 0.6).holds
    assert panel_headroom(1.99).verdict is Verdict.PASS and panel_headroom(1.99, None, "IEC").holds


def test_what_faces_the_panel_is_needed_by_us_practice_only() -> None:
    assert panel_working_space(0.7, 231.0, practice="IEC").verdict is Verdict.PASS
    waiting = panel_working_space(4 * FOOT, 277.0)
    assert waiting.verdict is Verdict.OPEN and waiting.limit is None
    assert "Waits for what faces the panel" in waiting.text
    assert panel_working_space(2.99 * FOOT, 277.0).holds, "too small whatever stands there"


def test_how_the_supply_is_grounded_is_needed_by_us_practice_only() -> None:
    assert panel_working_space(0.7, practice="IEC").verdict is Verdict.PASS
    assert panel_working_space(0.699, practice="IEC").holds
    waiting = panel_working_space(5 * FOOT, None, "live")
    assert waiting.verdict is Verdict.OPEN and "how the supply is grounded" in waiting.text
    assert panel_working_space(2.99 * FOOT, None, "nothing").holds, "too small for any voltage"


def test_another_practice_is_refused() -> None:
    with pytest.raises(InputError, match="practice"):
        panel_working_space(0.9, 231.0, "nothing", "EU")


def test_volts_between_lines_are_doubted_as_volts_to_ground() -> None:
    assert panel_working_space(2.0, 480.0, "nothing").ask
    assert not panel_working_space(2.0, 347.0, "nothing").ask
    assert supply_to_ground(480.0, WYE).results["to_ground"] == pytest.approx(277.13, abs=0.01)


def test_width_and_headroom() -> None:
    assert panel_width(30 * INCH).verdict is Verdict.PASS
    assert panel_width(29.9 * INCH).holds
    assert panel_width(35 * INCH, 36 * INCH).holds
    assert panel_headroom(78 * INCH).verdict is Verdict.PASS
    assert panel_headroom(80 * INCH, 84 * INCH).holds


@pytest.mark.parametrize(
    ("celsius", "verdict", "severity"),
    [
        (46.1, Verdict.FAIL, Severity.SAFETY),
        (46.0, Verdict.FAIL, Severity.HANDOVER),
        (40.1, Verdict.FAIL, Severity.HANDOVER),
        (40.0, Verdict.PASS, Severity.SAFETY),
        (4.0, Verdict.PASS, Severity.SAFETY),
        (3.9, Verdict.FAIL, Severity.HANDOVER),
        (-0.1, Verdict.FAIL, Severity.HANDOVER),
    ],
)
def test_room_temperature(celsius: float, verdict: Verdict, severity: Severity) -> None:
    finding = room_temperature(to_si(celsius, "temperature", "°C"))
    assert (finding.verdict, finding.severity) == (verdict, severity)


def test_frost_is_told_from_cold() -> None:
    assert "freezing" in room_temperature(272.0).text
    assert "freezing" not in room_temperature(275.0).text


def test_the_sentence_says_which_air_is_too_cold() -> None:
    assert (
        "coldest air at the machine is below freezing"
        in room_temperature(263.15, "coldest air").text
    )
    with pytest.raises(InputError, match="air"):
        room_temperature(263.15, "the weather")


def test_warming_over_outdoors() -> None:
    assert room_warming(308.0, 300.0).verdict is Verdict.PASS
    assert room_warming(308.1, 300.0).blocks_handover


def _air(available: float | None, **more: float | str) -> tuple[float, Verdict]:
    given_: dict[str, float | str] = {
        "shaft_power": 7457.0,
        "elevation": 0.0,
        "room_limit": 313.15,
        "outdoor": 303.15,
        "efficiency": 0.9,
        **more,
    }
    finding = ventilation_air(available=available, **given_)  # type: ignore[arg-type]
    return finding.results["needed"], finding.verdict


def test_air_on_and_under_the_need() -> None:
    needed, verdict = _air(None)
    assert verdict is Verdict.INCONCLUSIVE
    assert _air(needed)[1] is Verdict.PASS
    assert _air(needed * 0.999)[1] is Verdict.FAIL


def test_what_makes_a_room_need_more_air() -> None:
    base, _ = _air(1.0)
    assert _air(1.0, efficiency=0.8)[0] > base
    assert _air(1.0, elevation=1500.0)[0] > base
    assert _air(1.0, outdoor=308.15)[0] > base
    assert _air(1.0, outdoor=280.0)[0] == pytest.approx(base)
    assert _air(1.0, share=0.85)[0] == pytest.approx(base * 0.85)
    assert _air(1.0, intake=0.02)[0] == pytest.approx(base + 0.02)
    assert _air(1.0, intake=0.02, intake_from="outdoors")[0] == pytest.approx(base)


def test_a_motor_without_efficiency_is_taken_for_a_poor_one() -> None:
    told = ventilation_air(7457.0, 0.0, 313.15, 303.15, 1.0, 0.80)
    untold = ventilation_air(7457.0, 0.0, 313.15, 303.15, 1.0)
    assert told.results == untold.results


def test_no_flow_cools_below_outdoors() -> None:
    with pytest.raises(InputError) as caught:
        _air(1.0, outdoor=313.15)
    assert str(caught.value) == (
        "outdoor: given 104 °F (40 °C), "
        "accepted cooler than the room may be; no air flow cools below."
    )


@given(st.floats(0.05, 5), st.floats(0.05, 5))
def test_more_air_is_never_judged_worse(one: float, other: float) -> None:
    little, much = sorted((one, other))
    assert ORDER.index(_air(little)[1]) <= ORDER.index(_air(much)[1])


def test_louver_at_500_feet_a_minute() -> None:
    flow = to_si(1200.0, "flow", "cfm")
    gross = to_si(1200 / 500 / 0.45, "area", "ft2")
    finding = louver_area(flow, gross, 0.45)
    assert finding.verdict is Verdict.PASS
    assert finding.results["free_area"] == pytest.approx(to_si(3.0, "area", "ft2"))
    assert louver_area(flow, gross * 0.999, 0.45).blocks_handover
    assert louver_area(flow, 5.0, 0.9).ask and not louver_area(flow, 5.0, 1.0).ask


def test_floor_against_its_rating() -> None:
    place = (1650 * POUND, 48 * INCH, 30 * INCH)
    psf = to_si(1.0, "stress", "psf")
    assert floor_load(*place, 165 * psf).verdict is Verdict.PASS
    assert floor_load(*place, 164.9 * psf).holds
    unknown = floor_load(*place)
    assert unknown.verdict is Verdict.INCONCLUSIVE and unknown.holds
    heavy = floor_load(9000.0, 1.0, 1.0, 2000 * psf)
    assert heavy.verdict is Verdict.PASS and len(heavy.working) == 1


def test_pressure_under_a_foot() -> None:
    weight, strength = 1650 * POUND, to_si(3000.0, "stress", "psi")
    finding = floor_bearing(weight, "four", 9 * INCH**2, strength)
    assert finding.results["pressure"] == pytest.approx(to_si(68.75, "stress", "psi"))
    assert finding.verdict is Verdict.PASS
    assert floor_bearing(weight, "four", 0.5 * INCH**2, strength).holds
    assert floor_bearing(weight, "four", 9 * INCH**2).verdict is Verdict.ADVISORY
    on_three = floor_bearing(weight, "three", 9 * INCH**2, strength).results["pressure"]
    assert on_three == pytest.approx(4 / 3 * finding.results["pressure"])


@pytest.mark.parametrize(
    ("inch_per_foot", "direction", "verdict"),
    [
        (0.125, "no slope to see", Verdict.PASS),
        (0.126, "toward the drain", Verdict.ADVISORY),
        (0.25, "toward the drain", Verdict.ADVISORY),
        (0.251, "toward the drain", Verdict.FAIL),
        (0.01, "away from the drain", Verdict.FAIL),
        (0.0, "away from the drain", Verdict.PASS),
    ],
)
def test_level(inch_per_foot: float, direction: str, verdict: Verdict) -> None:
    assert machine_level(2 * inch_per_foot * INCH, 2 * FOOT, direction).verdict is verdict


@pytest.mark.parametrize(
    ("due", "verdict"),
    [
        (date(2026, 3, 1), Verdict.FAIL),
        (date(2026, 3, 2), Verdict.ADVISORY),
        (date(2026, 3, 8), Verdict.ADVISORY),
        (date(2026, 3, 9), Verdict.PASS),
    ],
)
def test_calibration_label(due: date, verdict: Verdict) -> None:
    assert calibration_in_date(due, date(2026, 3, 2)).verdict is verdict
    assert calibration_in_date(date(2062, 3, 2), date(2026, 3, 2)).ask


@pytest.mark.parametrize(
    ("call", "sentence"),
    [
        (
            lambda: room_temperature(340.0),
            "temperature: given 152.3 °F (66.85 °C), accepted -4 °F to 140 °F (-20 °C to 60 °C).",
        ),
        (
            lambda: wall_clearance(-0.1),
            "clearance: given -3.937 in (-100 mm), accepted 0 in to 1181 in (0 mm to 30000 mm).",
        ),
        (
            lambda: machine_level(0.01, 1.0, "sideways"),
            "direction: given “sideways”, accepted toward the drain; away from the drain; "
            "no slope to see.",
        ),
        (
            lambda: supply_to_ground(208.0, "star"),
            "system: given “star”, accepted wye with grounded neutral; "
            "delta, ungrounded or one corner grounded; "
            "delta, one winding grounded in the middle (high leg); "
            "single phase, grounded in the middle; single phase, one line grounded.",
        ),
        (
            lambda: floor_bearing(500.0, "two", 0.01),
            "feet: given “two”, accepted three; four.",
        ),
    ],
)
def test_refuses_with_one_sentence(call: object, sentence: str) -> None:
    with pytest.raises(InputError) as caught:
        call()  # type: ignore[operator]
    assert str(caught.value) == sentence
