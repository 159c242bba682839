"""The preparation sheet: from plates alone, each number with its working, gaps named."""

from __future__ import annotations

import pytest

from tests.demo.maker import commission, scenario
from wizard.job import Job
from wizard.preparation import Expect, prepare
from wizard.quantities import from_si


@pytest.fixture(scope="module")
def plates() -> Job:
    return commission("P1", scenario("fifteen_hp"), until="hose.plate_pressure")


def expected(job: Job, what: str) -> Expect:
    return next(e for e in prepare(job).expect if e.what.startswith(what))


def test_names_gear_and_sizes_from_the_plates(plates: Job) -> None:
    sheet = prepare(plates)
    slings = next(b for b in sheet.bring if b.what.startswith("slings"))
    assert slings.least and from_si(slings.least.value, "mass", "lb") == pytest.approx(
        1250 / (2 * 0.8660254) / 0.75
    )
    wire = next(b for b in sheet.bring if b.what.startswith("copper wire"))
    assert "10 AWG" in wire.what
    hose = next(b for b in sheet.bring if b.what.startswith("hose"))
    assert hose.least and from_si(hose.least.value, "gauge pressure", "psig") == pytest.approx(200)
    assert sheet.missing == ()


def test_predicts_what_will_be_read_on_site(plates: Job) -> None:
    band = expected(plates, "line voltage")
    assert band.low and band.high
    assert band.low.value == pytest.approx(414.0)
    assert band.high.value == pytest.approx(506.0)
    stop = expected(plates, "stop by hand").low
    assert stop and from_si(stop.value, "gauge pressure", "psig") == pytest.approx(180.0)
    assert expected(plates, "pump-up time").step is not None


def test_what_the_plates_do_not_say_is_named_and_left_out() -> None:
    job = commission("P2", scenario("fifteen_hp"), until="motor.voltage")
    sheet = prepare(job)
    assert "Motor plate: full-load amperes at that voltage" in sheet.missing
    assert not any(e.what.startswith("pump-up") for e in sheet.expect)


def test_a_metric_iec_job_leaves_wire_sizes_to_the_electrician() -> None:
    job = commission("P3", scenario("metric_7_5_kw"), until="hose.plate_pressure")
    sheet = prepare(job)
    assert not any("AWG" in b.what for b in sheet.bring)
    assert any("licensed electrician" in b.text for b in sheet.bring)
