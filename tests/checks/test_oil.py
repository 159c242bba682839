"""Oil as filled: every indicator, grade, mixing, lot and data sheet."""

from __future__ import annotations

from math import radians
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from wizard.checks.oil import (
    NON_DETERGENT,
    PURITIES,
    oil_data_sheet,
    oil_grade,
    oil_level,
    oil_viscosity,
)
from wizard.checks.oil_names import grade
from wizard.errors import InputError, OutsideValidity
from wizard.finding import Finding, Severity, Verdict

CST = 1e-6
C = 273.15


@pytest.mark.parametrize("indicator", ["sight glass", "dipstick"])
@pytest.mark.parametrize(
    ("level", "verdict", "severity"),
    [
        (0.0, Verdict.FAIL, Severity.SAFETY),
        (0.499, Verdict.FAIL, Severity.SAFETY),
        (0.5, Verdict.PASS, Severity.SAFETY),
        (0.6, Verdict.PASS, Severity.SAFETY),
        (0.75, Verdict.PASS, Severity.SAFETY),
        (0.751, Verdict.FAIL, Severity.HANDOVER),
        (1.2, Verdict.FAIL, Severity.HANDOVER),
    ],
)
def test_level_in_glass_and_on_stick(
    indicator: str, level: float, verdict: Verdict, severity: Severity
) -> None:
    finding = oil_level(indicator, level)
    assert (finding.verdict, finding.severity) == (verdict, severity)


@pytest.mark.parametrize(
    ("mark", "verdict", "severity"),
    [
        ("at the bottom thread", Verdict.PASS, Severity.SAFETY),
        ("below the bottom thread", Verdict.FAIL, Severity.SAFETY),
        ("cannot see", Verdict.FAIL, Severity.SAFETY),
        ("above the bottom thread", Verdict.FAIL, Severity.HANDOVER),
    ],
)
def test_level_at_the_fill_port(mark: str, verdict: Verdict, severity: Severity) -> None:
    finding = oil_level("neither", mark=mark)
    assert (finding.verdict, finding.severity) == (verdict, severity)
    assert verdict is Verdict.PASS or (finding.danger and finding.clears)


@pytest.mark.parametrize("indicator", ["sight glass", "dipstick", "neither"])
def test_a_level_that_was_not_read_holds_the_job(indicator: str) -> None:
    assert oil_level(indicator).holds


def test_a_machine_out_of_level_has_no_oil_level() -> None:
    for tilt, verdict in ((2.0, Verdict.PASS), (2.01, Verdict.INCONCLUSIVE)):
        for both in ((radians(tilt), 0.0), (0.0, radians(-tilt))):
            finding = oil_level("sight glass", 0.6, lengthwise=both[0], crosswise=both[1])
            assert finding.verdict is verdict
            assert finding.holds == (verdict is Verdict.INCONCLUSIVE)


def test_words_and_levels_that_are_none_are_refused() -> None:
    with pytest.raises(InputError, match="indicator: given “window”"):
        oil_level("window", 0.6)
    with pytest.raises(InputError, match="level at the fill port"):
        oil_level("neither", mark="full")
    with pytest.raises(OutsideValidity, match="oil level: given -10 %"):
        oil_level("sight glass", -0.1)


def test_a_level_above_the_top_is_asked_about() -> None:
    assert "above the top" in oil_level("dipstick", 1.2).ask


def fill(filled: str, builder: str = "ISO VG 100", **more: str) -> Finding:
    given_: dict[str, Any] = {"detergent": NON_DETERGENT, "purity": "only this oil", **more}
    return oil_grade(filled, builder, **given_)


def test_the_builders_grade_passes_under_each_of_its_names() -> None:
    for name in ("ISO VG 100", "VG 100", "iso vg 100", "100", "SAE 30", "sae 30"):
        assert fill(name).verdict is Verdict.PASS
    assert fill("SAE 20", "ISO VG 68").verdict is Verdict.PASS


@pytest.mark.parametrize(
    ("more", "said"),
    [
        ({"filled": "ISO VG 68"}, "the builder asks for ISO VG 100"),
        ({"detergent": "detergent engine oil"}, "not a non-detergent compressor oil"),
        ({"detergent": "not known"}, "not a non-detergent compressor oil"),
        ({"purity": "mixed"}, "two oils may be mixed"),
        ({"purity": "not known"}, "two oils may be mixed"),
        ({"oil_type": "synthetic", "builder_type": "mineral"}, "the builder asks for mineral oil"),
    ],
)
def test_wrong_oil_blocks_handover(more: dict[str, str], said: str) -> None:
    finding = fill(**{"filled": "ISO VG 100", **more})
    assert finding.blocks_handover and not finding.holds
    assert said in finding.text


def test_oil_that_was_flushed_or_has_no_stated_type_passes() -> None:
    assert fill("ISO VG 100", purity=PURITIES[1]).verdict is Verdict.PASS
    typed = fill("ISO VG 100", oil_type="synthetic", builder_type="not stated")
    assert typed.verdict is Verdict.PASS


@pytest.mark.parametrize(
    ("filled", "verdict"),
    [("ISO VG 100", Verdict.ADVISORY), ("ISO VG 68", Verdict.FAIL), ("SAE 30", Verdict.ADVISORY)],
)
def test_where_the_builder_is_silent_the_general_rule_holds(filled: str, verdict: Verdict) -> None:
    finding = fill(filled, "not stated")
    assert finding.verdict is verdict and len(finding.working) == 3


def test_unknown_grades_are_refused_with_the_list() -> None:
    with pytest.raises(InputError, match="grade filled: given “10W-40”, accepted ISO VG 22"):
        fill("10W-40")
    assert grade("grade", " vg  150 ")["high"] == 165.0


@pytest.mark.parametrize(
    ("filled", "centistokes", "verdict"),
    [
        ("ISO VG 100", 88.0, Verdict.FAIL),
        ("ISO VG 100", 90.0, Verdict.PASS),
        ("ISO VG 100", 110.0, Verdict.PASS),
        ("ISO VG 100", 110.1, Verdict.FAIL),
        ("ISO VG 68", 61.2, Verdict.PASS),
        ("ISO VG 68", 61.1, Verdict.FAIL),
        ("SAE 30", 100.0, Verdict.PASS),
    ],
)
def test_a_tested_lot(filled: str, centistokes: float, verdict: Verdict) -> None:
    assert oil_viscosity(filled, centistokes * CST).verdict is verdict


def test_a_lot_far_off_is_asked_about_and_nothing_is_refused() -> None:
    assert "at 40 °C" in oil_viscosity("ISO VG 100", 11 * CST).ask
    with pytest.raises(InputError, match="viscosity at 40 °C: given 0 cSt"):
        oil_viscosity("ISO VG 100", 0.0)


@given(st.floats(10, 400), st.floats(1.0, 2.0))
def test_a_lot_inside_its_grade_is_inside_an_interval(value: float, more: float) -> None:
    inside = [
        oil_viscosity("ISO VG 100", one * CST).verdict is Verdict.PASS
        for one in (value, value * more)
    ]
    if all(inside):
        middle = value * (1 + more) / 2
        assert oil_viscosity("ISO VG 100", middle * CST).verdict is Verdict.PASS


@pytest.mark.parametrize(
    ("sheet", "verdict"),
    [
        ({"flash_point": (350 + 459.67) / 1.8}, Verdict.PASS),
        ({"flash_point": (349.9 + 459.67) / 1.8}, Verdict.FAIL),
        ({"pour_point": (35 + 459.67) / 1.8}, Verdict.PASS),
        ({"pour_point": (35.1 + 459.67) / 1.8}, Verdict.FAIL),
        ({"carbon_residue": 0.02}, Verdict.PASS),
        ({"carbon_residue": 0.0201}, Verdict.FAIL),
        ({}, Verdict.INCONCLUSIVE),
    ],
)
def test_data_sheet(sheet: dict[str, float], verdict: Verdict) -> None:
    finding = oil_data_sheet(**sheet)
    assert (finding.verdict, finding.severity) == (verdict, Severity.HANDOVER)


def test_data_sheet_values_that_cannot_be_are_refused() -> None:
    with pytest.raises(OutsideValidity, match="carbon residue"):
        oil_data_sheet(carbon_residue=1.5)
    with pytest.raises(OutsideValidity, match="flash point"):
        oil_data_sheet(flash_point=500 + C)
    with pytest.raises(OutsideValidity, match="pour point"):
        oil_data_sheet(pour_point=-100 + C)
