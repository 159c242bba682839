"""The limit shown at a reading, over the whole procedure: it is one for that reading, and it says
the same as the verdict."""

from __future__ import annotations

from collections.abc import Iterator
from functools import cache

import pytest

from tests.demo.maker import commission, scenario
from wizard.answer import Parsed
from wizard.finding import Finding, Limit, Verdict
from wizard.job import Job
from wizard.procedure.item import Item
from wizard.quantities import from_si, to_si
from wizard.tui.judged import band_finding, expected, probes

MACHINES = ("fifteen_hp", "five_hp", "metric_7_5_kw", "three_hp_208")
FAR = {"temperature": 15.0}
"""K beyond a limit that has no zero; a third of the limit elsewhere."""


@cache
def commissioned(name: str) -> Job:
    """The job of a scenario, answered to the end."""
    return commission("L1", scenario(name))


def shown(job: Job) -> Iterator[tuple[Item, Limit, str]]:
    """The items with a limit that is shown before anything is typed, and what it is of."""
    for item in job.applicable:
        limit, of = expected(job, item)
        if limit is not None:
            yield item, limit, of


def found(job: Job, item: Item, parsed: Parsed) -> Finding | None:
    """The finding whose limit is shown."""
    readings = tuple(f for f in job.preview(item.key, parsed) if not f.refused)
    return band_finding(readings, item.quantity)


def at(job: Job, item: Item, value: float) -> Finding | None:
    """The same for a reading in SI units."""
    unit = item.unit_in(job.header.units)
    number = from_si(value, item.quantity, unit)
    return found(job, item, Parsed("", (number,) * len(item.labels) or number, unit))


@pytest.mark.parametrize("name", MACHINES)
def test_a_one_sided_limit_of_a_reading_says_what_the_verdict_says(name: str) -> None:
    job, looked = commissioned(name), 0
    for item, limit, of in shown(job):
        if of or (limit.low is None) is (limit.high is None):
            continue
        end = limit.low if limit.low is not None else limit.high
        assert end is not None
        far = FAR.get(item.quantity, abs(end) / 3 or to_si(1.0, item.quantity, item.unit_in("us")))
        up = far if limit.high is None else -far
        inside, beyond = at(job, item, end + up), at(job, item, end - up)
        if inside is not None and inside.limit == limit:
            assert inside.verdict is not Verdict.FAIL, (item.key, inside)
        assert beyond is None or beyond.verdict is not Verdict.PASS, (item.key, beyond)
        looked += 1
    assert looked > 20


@pytest.mark.parametrize("name", MACHINES)
def test_a_limit_shown_at_a_reading_is_one_that_the_reading_moves(name: str) -> None:
    job, looked = commissioned(name), 0
    for item in job.applicable:
        if not item.measured or item.kind == "series":
            continue
        own = {b.rule for b in item.checks if item.key in b.uses()}
        values: dict[str, list[tuple[float, Limit]]] = {rule: [] for rule in own}
        for probe in probes(item, job.header.units):
            for one in job.preview(item.key, probe):
                limit = one.limit
                if one.check in own and limit and limit.kind == item.quantity and one.value:
                    values[one.check].append((one.value.value, limit))
        for seen in (v for v in values.values() if len(v) > 1):
            assert len(set(seen)) > 1, (item.key, seen)
            looked += 1
    assert looked > 20


@pytest.mark.parametrize("name", MACHINES)
def test_a_limit_of_another_kind_says_what_it_is_of_and_no_limit_says_nothing(name: str) -> None:
    job = commissioned(name)
    for item, limit, of in shown(job):
        assert of or limit.kind == item.quantity, item.key
        assert limit.high is not None or limit.low != 0, item.key


def test_a_rating_above_the_relief_setting_is_inside_its_limit() -> None:
    job = commissioned("metric_7_5_kw")
    item = job.procedure.items["relief.weakest_part"]
    limit, of = expected(job, item)
    assert limit == Limit(to_si(11, "gauge pressure", "bar(g)"), None, "gauge pressure") and not of
