"""Choosing from a list: a number never means another option than the one it stands before,
and a size is what is typed."""

from __future__ import annotations

import pytest

from tests.small import START_TIME
from wizard.answer import parse
from wizard.errors import InputError
from wizard.event import Act, Event
from wizard.history import doubts
from wizard.job import Header, Job
from wizard.procedure import procedure
from wizard.procedure.item import Item
from wizard.record import dumps, loads

CHOICES = [i for i in procedure().items.values() if i.kind == "choose"]


@pytest.mark.parametrize("item", CHOICES, ids=lambda i: i.key)
def test_every_option_can_be_typed(item: Item) -> None:
    assert [parse(item, option, "us").value for option in item.options] == list(item.options)


@pytest.mark.parametrize("item", [i for i in CHOICES if i.numbered], ids=lambda i: i.key)
def test_a_number_is_the_option_it_stands_before(item: Item) -> None:
    numbers = range(1, len(item.options) + 1)
    assert [parse(item, str(n), "us").value for n in numbers] == list(item.options)


def test_poles_are_poles_and_not_places_in_the_list() -> None:
    poles = procedure().items["motor.poles"]
    assert not poles.numbered
    assert parse(poles, "2", "us").value == "2"
    with pytest.raises(InputError, match=r"3.*2; 4; 6"):
        parse(poles, "3", "us")


@pytest.mark.parametrize("key", ["conductor.size", "ground.size"])
@pytest.mark.parametrize(
    ("typed", "units", "meant"),
    [
        ("14", "us", "14 AWG"),
        ("12", "us", "12 AWG"),
        ("14 a", "us", "14 AWG"),
        ("AWG 14", "metric", "14 AWG"),
        ("4 awg", "metric", "4 AWG"),
        ("4 mm2", "us", "4 mm²"),
        ("2.5", "us", "2.5 mm²"),
        ("2,5 mm2", "metric", "2.5 mm²"),
        ("2.5mm²", "metric", "2.5 mm²"),
        ("2.5 sq mm", "metric", "2.5 mm²"),
        ("16", "metric", "16 mm²"),
    ],
)
def test_a_wire_size_is_what_is_typed(key: str, typed: str, units: str, meant: str) -> None:
    item = procedure().items[key]
    assert not item.numbered
    assert parse(item, typed, units).value == meant


@pytest.mark.parametrize(
    ("typed", "units", "words"),
    [
        ("4", "us", "accepted 4 AWG or 4 mm², which of them."),
        ("10", "metric", "accepted 10 AWG or 10 mm², which of them."),
        ("16", "us", "given 16 without a unit, accepted 16 mm² in full."),
        ("14", "metric", "given 14 without a unit, accepted 14 AWG in full."),
        ("1", "us", "accepted 14 AWG; 12 AWG"),
        ("18", "us", "accepted 14 AWG; 12 AWG"),
    ],
)
def test_a_size_that_could_be_another_is_asked_for_again(
    typed: str, units: str, words: str
) -> None:
    with pytest.raises(InputError) as problem:
        parse(procedure().items["conductor.size"], typed, units)
    assert words in str(problem.value)


@pytest.mark.parametrize(
    ("key", "typed", "meant"),
    [
        ("conductor.terminal", "75 c", "75 °C"),
        ("anchor.thread", "1/2", "1/2-13"),
        ("anchor.slab_age", "28", "28 days or older"),
        ("thread.size", "1", "1"),
    ],
)
def test_other_lists_of_figures_go_by_the_figure(key: str, typed: str, meant: str) -> None:
    assert parse(procedure().items[key], typed, "us").value == meant


@pytest.mark.parametrize(
    ("key", "typed"),
    [("anchor.grade", "5"), ("anchor.thread", "10"), ("conductor.terminal", "1")],
)
def test_a_place_in_a_list_of_figures_is_no_answer(key: str, typed: str) -> None:
    with pytest.raises(InputError):
        parse(procedure().items[key], typed, "us")


def test_a_size_chosen_by_its_number_earlier_stays_what_it_was() -> None:
    given = {"raw": "14", "value": "16 mm²", "unit": ""}
    event = Event(1, Act.ANSWERED, START_TIME, "Ann", "conductor.size", given)
    job = Job.replay(Header("T1", "0" * 32, START_TIME), procedure(), [event])
    loaded = loads(dumps(job, 1), procedure())
    assert not loaded.grave
    assert loaded.job.answers["conductor.size"].value == "16 mm²"
    assert not [d for d in doubts(loaded.job) if d.key == "conductor.size"]


@pytest.mark.parametrize(("units", "first"), [("us", "14 AWG"), ("metric", "1.5 mm²")])
@pytest.mark.parametrize("key", ["conductor.size", "ground.size"])
def test_sizes_of_the_job_s_own_system_are_listed_first(key: str, units: str, first: str) -> None:
    item = procedure().items[key]
    assert item.listed(units)[0] == first and set(item.listed(units)) == set(item.options)


@pytest.mark.parametrize("item", CHOICES, ids=lambda i: i.key)
def test_numbered_options_stay_where_their_numbers_are(item: Item) -> None:
    assert not item.numbered or item.listed("metric") == item.listed("us") == item.options
