"""Anchors and feet: every limit on, inside and outside."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from wizard.checks.anchoring import anchor_layout, anchor_torque, back_off, preload_stress
from wizard.checks.feet import foot_gap, shim_stack, soft_foot
from wizard.errors import InputError
from wizard.finding import ORDER, Severity, Verdict
from wizard.quantities import to_si

INCH = 0.0254
TEN = to_si(10.0, "torque", "lbf·ft")
WEDGE = "torque-controlled (wedge or sleeve)"
QUARTER = math.pi / 2


@pytest.mark.parametrize(
    ("share", "verdict", "severity"),
    [
        (0.899, Verdict.FAIL, Severity.HANDOVER),
        (0.90, Verdict.PASS, Severity.SAFETY),
        (1.10, Verdict.PASS, Severity.SAFETY),
        (1.101, Verdict.FAIL, Severity.HANDOVER),
        (1.50, Verdict.FAIL, Severity.HANDOVER),
        (1.501, Verdict.FAIL, Severity.SAFETY),
    ],
)
def test_torque_of_the_worst_foot(share: float, verdict: Verdict, severity: Severity) -> None:
    finding = anchor_torque((TEN, TEN, share * TEN), TEN)
    assert (finding.verdict, finding.severity) == (verdict, severity)


def test_one_strained_foot_is_seen_beside_a_loose_one() -> None:
    assert anchor_torque((0.1 * TEN, 1.6 * TEN), TEN).holds


def test_a_torque_of_inch_pounds_read_as_foot_pounds_is_doubted() -> None:
    target = to_si(120.0, "torque", "lbf·ft")
    assert anchor_torque((target,), target).ask
    assert not anchor_torque((TEN,), TEN).ask


@pytest.mark.parametrize("unit", ["N·m", "kgf·m", "lbf·in", "lbf·ft"])
def test_ten_pound_feet_pass_in_any_unit(unit: str) -> None:
    factor = {"N·m": 13.558, "kgf·m": 1.3825, "lbf·in": 120.0, "lbf·ft": 10.0}[unit]
    assert anchor_torque((to_si(factor, "torque", unit),), TEN).verdict is Verdict.PASS


def test_preload_at_three_quarters_of_proof() -> None:
    torque = 0.20 * 0.75 * 580e6 * 84.3e-6 * 0.012
    assert preload_stress(torque, "M12", "8.8").verdict is Verdict.PASS
    assert preload_stress(torque * 1.001, "M12", "8.8").blocks_handover
    ten = preload_stress(TEN, "3/8-16", "SAE grade 2")
    assert ten.results["preload"] == pytest.approx(to_si(1600.0, "force", "lbf"))


def test_grease_is_judged_by_the_most_preload_it_can_give() -> None:
    dry, greased = (
        preload_stress(TEN, "3/8-16", "SAE grade 2", s).results["preload"]
        for s in ("dry steel", "anti-seize")
    )
    assert greased == pytest.approx(dry * 0.20 / 0.12)


@pytest.mark.parametrize(
    ("degrees", "lock", "verdict"),
    [
        (90.0, "jam nut", Verdict.PASS),
        (90.0, "lock nut", Verdict.PASS),
        (90.0, "not locked", Verdict.FAIL),
        (60.0, "jam nut", Verdict.PASS),
        (59.0, "jam nut", Verdict.FAIL),
        (120.0, "jam nut", Verdict.PASS),
        (121.0, "jam nut", Verdict.FAIL),
        (0.0, "jam nut", Verdict.FAIL),
    ],
)
def test_back_off(degrees: float, lock: str, verdict: Verdict) -> None:
    assert back_off(math.radians(degrees), lock).verdict is verdict


def test_back_off_shows_what_clamp_is_left() -> None:
    known = (TEN, "3/8-16", 4 * INCH)
    soft = back_off(QUARTER, "jam nut", *known, to_si(5000.0, "stiffness", "lbf/in"))
    rigid = back_off(QUARTER, "jam nut", *known, to_si(4e6, "stiffness", "lbf/in"))
    assert soft.results["travel"] / INCH == pytest.approx(0.015625, rel=1e-5)
    assert soft.results["residual"] == pytest.approx(to_si(1522.56, "force", "lbf"), rel=1e-4)
    assert rigid.results["residual"] == 0.0
    assert back_off(QUARTER, "jam nut").working == ()


@pytest.mark.parametrize(
    ("changed", "said"),
    [
        ({"spacing": 2.9}, "6 diameters"),
        ({"edge": 3.9}, "edge"),
        ({"embedment": 1.9}, "4 diameters"),
        ({"embedment": 4.1}, "too deep"),
        ({"hole": 3.4}, "too shallow"),
    ],
)
def test_layout_names_what_is_wrong(changed: dict[str, float], said: str) -> None:
    sound = {"spacing": 3.0, "edge": 4.0, "embedment": 3.0, "hole": 3.5}

    def layout(values: dict[str, float], sheet: str = "no sheet on hand") -> tuple[Verdict, str]:
        lengths = {name: value * INCH for name, value in values.items()}
        found = anchor_layout(
            WEDGE,
            0.5 * INCH,
            slab=6 * INCH,
            sheet=sheet,
            **lengths,
        )
        return found.verdict, found.text

    assert layout(sound)[0] is Verdict.PASS
    verdict, text = layout({**sound, **changed})
    assert verdict is Verdict.FAIL and said in text
    sheet = "compared, layout within its limits"
    assert layout({**sound, **changed}, sheet)[0] is Verdict.ADVISORY


@pytest.mark.parametrize(
    ("anchor", "edge"), [(WEDGE, 8), ("displacement-controlled (drop-in)", 10)]
)
def test_edge_distance_follows_the_kind_of_anchor(anchor: str, edge: int) -> None:
    for diameters, verdict in ((edge, Verdict.PASS), (edge - 0.1, Verdict.FAIL)):
        found = anchor_layout(anchor, 0.5 * INCH, 0.2, diameters * 0.5 * INCH, 3 * INCH, 6 * INCH)
        assert found.verdict is verdict


def test_gaps_soft_feet_and_shims() -> None:
    assert foot_gap((0.0, 0.0005, 0.020 * INCH)).verdict is Verdict.PASS
    assert foot_gap((0.0, 0.021 * INCH)).blocks_handover
    assert soft_foot((0.00005, 0.002 * INCH, 0.0, 0.0)).verdict is Verdict.PASS
    assert soft_foot((0.0021 * INCH, 0.0)).blocks_handover
    assert foot_gap((0.02,)).ask and soft_foot((0.002,)).ask
    assert shim_stack(5).verdict is Verdict.PASS
    assert shim_stack(6).blocks_handover
    assert shim_stack(1, False).blocks_handover
    assert shim_stack(0, False).verdict is Verdict.PASS


@given(st.floats(0, 0.05), st.floats(0, 0.05))
def test_a_larger_gap_is_never_judged_better(one: float, other: float) -> None:
    small, large = sorted((one, other))
    assert ORDER.index(foot_gap((large,)).verdict) <= ORDER.index(foot_gap((small,)).verdict)


@pytest.mark.parametrize(
    ("call", "sentence"),
    [
        (
            lambda: anchor_torque((), TEN),
            "applied: given nothing, accepted one torque for each foot.",
        ),
        (
            lambda: anchor_torque((TEN,), 0.1),
            "target: given 0.07376 lbf·ft (0.1 N·m), "
            "accepted 0.5 lbf·ft to 500 lbf·ft (0.678 N·m to 677.9 N·m).",
        ),
        (
            lambda: back_off(QUARTER, "glue"),
            "lock: given “glue”, accepted jam nut; lock nut; not locked.",
        ),
        (
            lambda: foot_gap((-1e-4,)),
            "gaps: given -0.003937 in (-0.1 mm), accepted 0 in to 1.968 in (0 mm to 50 mm).",
        ),
        (lambda: foot_gap(()), "gaps: given nothing, accepted one for each foot."),
        (lambda: shim_stack(-1), "count: given -1, accepted 0 to 50."),
        (
            lambda: preload_stress(TEN, "3/8-16", "SAE grade 2", "painted"),
            "surface: given “painted”, accepted unknown; dry steel; oiled; zinc plated; "
            "anti-seize.",
        ),
    ],
)
def test_refuses_with_one_sentence(call: object, sentence: str) -> None:
    with pytest.raises(InputError) as caught:
        call()  # type: ignore[operator]
    assert str(caught.value) == sentence
