"""Thousands as people part them: a point that can be either is asked about, a space is taken."""

from __future__ import annotations

import pytest

from tests.demo.maker import commission, scenario
from wizard import actions
from wizard.actions import Hand, NeedsConfirmation
from wizard.answer import parse, si_value, two_ways
from wizard.errors import InputError, QuantityError
from wizard.job import Job
from wizard.kinds import KINDS
from wizard.procedure import procedure
from wizard.quantities import parse_quantity, unit_of


def question(key: str, text: str, units: str = "metric") -> str:
    item = procedure().items[key]
    return two_ways(item, parse(item, text, units), units)


def metric_job(until: str) -> Job:
    return commission("P1", scenario("metric_7_5_kw"), until=until)


def test_an_elevation_of_1_200_m_is_asked_about_and_kept_as_it_was_confirmed() -> None:
    job = metric_job("job.jurisdiction")
    told = "1.200 can mean 1.2 m or 1200 m; it is taken as 1.2 m."
    hand = Hand("Tess Example", job.events[-1].at)
    with pytest.raises(NeedsConfirmation, match=told):
        actions.answer(job, "site.elevation", "1.200 m", hand)
    confirmed = actions.answer(job, "site.elevation", "1.200 m", hand, confirmed=True)
    assert confirmed.answers["site.elevation"].value == 1.2
    assert confirmed.answers["site.elevation"].confirmed == told
    assert actions.answer(job, "site.elevation", "1200 m", hand).answers["site.elevation"]


@pytest.mark.parametrize(
    ("key", "text"),
    [
        ("panel.depth", "1.200"),
        ("panel.depth", "1.200 mm"),
        ("visit.hour_meter", "1.234 h"),
        ("insulation.resistance", "2.5 1.250 2.5 Mohm"),
    ],
)
def test_a_point_is_asked_about_where_both_readings_are_usual(key: str, text: str) -> None:
    assert "can mean" in question(key, text)


@pytest.mark.parametrize(
    ("key", "text", "units"),
    [
        ("pump.bore", "95.125 mm", "metric"),
        ("pump.interstage_normal", "2.345 bar", "metric"),
        ("foot.gap_four", "1.250 0 0 0 mm", "metric"),
        ("site.elevation", "0.125 m", "metric"),
        ("site.elevation", "420.5 m", "metric"),
        ("site.elevation", "1.2000 m", "metric"),
        ("site.elevation", "1.200 m", "us"),
        ("visit.hour_meter", "no hour meter", "metric"),
        ("pump.interstage_normal", "", "metric"),
    ],
)
def test_a_decimal_point_that_can_be_nothing_else_is_not_asked_about(
    key: str, text: str, units: str
) -> None:
    assert question(key, text, units) == ""


@pytest.mark.parametrize("space", [" ", "\u00a0", "\u202f", "\u2009"])
def test_a_space_parts_thousands(space: str) -> None:
    for key, text, base in (
        ("motor.speed", f"1{space}455 rpm", 1455 / 60),
        ("relief.plate_capacity", f"1{space}600 l/min", 1.6 / 60),
        ("site.elevation", f"1{space}200,5 m", 1200.5),
        ("insulation.resistance_single", f"1{space}250 Mohm", (1250e6,)),
    ):
        item = procedure().items[key]
        assert si_value(item, parse(item, text, "metric")) == pytest.approx(base)


@pytest.mark.parametrize("text", ["1 60 rpm", "0 600 rpm", "1 6000 rpm", "14 55"])
def test_a_space_that_parts_nothing_is_what_is_refused(text: str) -> None:
    with pytest.raises(QuantityError, match="a space inside it parts groups of three"):
        parse_quantity(text, "rotational speed", "rpm")


def test_several_readings_on_a_line_stay_several() -> None:
    item = procedure().items["supply.voltage"]
    assert parse(item, "398 401 399 V", "metric").value == (398.0, 401.0, 399.0)
    with pytest.raises(InputError, match="3 numbers"):
        parse(item, "398 401 V", "metric")
    assert parse_quantity("5 ft 3 1/2 in", "length").value == 63.5
    assert parse_quantity("1 1/2 in", "length").value == 1.5


@pytest.mark.parametrize(
    "unit", ["rpm", "r/min", "1/min", "min-1", "min⁻¹", "/min", " /min", "U/min", "tr/min"]
)
def test_turns_a_minute_are_taken_as_plates_print_them(unit: str) -> None:
    assert parse_quantity(f"1455 {unit}", "rotational speed").si == pytest.approx(1455 / 60)
    if unit != "1/min":
        assert parse_quantity(f"1455{unit}", "rotational speed").si == pytest.approx(1455 / 60)


def test_a_refusal_of_a_unit_lists_what_else_is_taken_and_all_of_it_is() -> None:
    for kind in KINDS.values():
        with pytest.raises(QuantityError) as refused:
            unit_of(kind.name, "furlong")
        listed = refused.value.accepted.replace(", also ", ", ").split(", ")
        for name in listed:
            assert name == "no unit" or unit_of(kind.name, name), (kind.name, name)
    with pytest.raises(QuantityError, match="also r/min, 1/min, min-1, min⁻¹, /min, U/min, tr/min"):
        parse_quantity("1455 turns", "rotational speed")


@pytest.mark.parametrize(
    ("text", "litres"),
    [("270 dm³", 270), ("270 dm3", 270), ("500 cm³", 0.5), ("500 cm3", 0.5), ("0,27 m³", 270)],
)
def test_a_volume_is_taken_in_cubic_units(text: str, litres: float) -> None:
    assert parse_quantity(text, "volume").si == pytest.approx(litres / 1000)
