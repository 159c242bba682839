"""What is accepted and what is usual, in the unit of whoever types."""

from __future__ import annotations

import pytest

from tests.small import START_TIME
from wizard.actions import doubt_of
from wizard.answer import Parsed, parse
from wizard.errors import InputError
from wizard.job import Header, Job
from wizard.procedure import procedure
from wizard.procedure.item import Item

ITEMS = procedure().items
ONE_READING = [
    i for i in ITEMS.values() if i.kind in ("measure", "time") and i.accept and not i.labels
]


_OTHERS = {"gauge pressure": ("kPa(g)",), "length": ("mm", "in"), "voltage": ("kV",)}


@pytest.mark.parametrize("item", ONE_READING, ids=lambda i: i.key)
def test_both_ends_of_the_range_are_accepted_as_they_are_shown(item: Item) -> None:
    for unit in {item.unit_in("us"), item.unit_in("metric"), *_OTHERS.get(item.quantity, ())}:
        low, high = item.accepted_in(unit).split(" to ")
        assert parse(item, low, "us").unit == parse(item, high, "metric").unit == unit


@pytest.mark.parametrize(
    ("key", "text", "units", "said"),
    [
        ("pump.discharge_limit", "9", "us", "given 9, accepted 176 °F to 500 °F"),
        ("pump.discharge_limit", "9", "metric", "given 9, accepted 80 °C to 260 °C"),
        ("pump.discharge_limit", "9 °C", "us", "given 9 °C, accepted 80 °C to 260 °C"),
        ("pump.interstage_normal", "900", "us", "given 900, accepted 7.252 psig to 116 psig"),
        ("foot.gap_three", "90 0 0", "metric", "given 90 mm, accepted 0 mm to 50.8 mm"),
        ("receiver.year", "1", "us", "given 1, accepted 1930 to 2100"),
    ],
)
def test_a_refusal_speaks_the_unit_that_was_typed_or_else_that_of_the_job(
    key: str, text: str, units: str, said: str
) -> None:
    with pytest.raises(InputError) as refused:
        parse(ITEMS[key], text, units)
    assert said in str(refused.value)


@pytest.mark.parametrize(("unit", "usual"), [("°F", "248 °F to 446 °F"), ("°C", "120 °C to 230")])
def test_what_is_usual_is_told_in_the_unit_of_the_answer(unit: str, usual: str) -> None:
    parsed = Parsed(f"240 {unit}", 240.0, unit)
    job = Job.new(Header("T1", "0" * 32, START_TIME), procedure())
    assert usual in doubt_of(job, ITEMS["pump.discharge_limit"], parsed)
