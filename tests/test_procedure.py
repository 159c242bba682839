"""The shipped procedure: complete, sound, and every safety item can hold the job."""

from __future__ import annotations

from dataclasses import replace
from datetime import UTC, datetime

import pytest

from wizard import actions, checks
from wizard.actions import Hand
from wizard.errors import ProcedureError
from wizard.finding import Finding, Severity, Verdict
from wizard.job import Header, Job
from wizard.procedure import Item, procedure
from wizard.procedure.loader import build

ITEMS = list(procedure().items.values())
NOW = datetime(2026, 3, 2, 8, 0, tzinfo=UTC)


def test_has_the_fifteen_phases_in_order() -> None:
    assert [p.number for p in procedure().phases] == list(range(1, 16))
    assert all(p.items for p in procedure().phases)


@pytest.mark.parametrize("item", ITEMS, ids=lambda i: i.key)
def test_item_explains_itself(item: Item) -> None:
    assert len(item.ask) <= 70
    for text in (item.why, item.how, item.mistake):
        assert len(text) > 20
    if item.severity is Severity.SAFETY:
        assert item.caution, "a safety item carries a caution"


def _held_by(item: Item) -> Job:
    """A job in which this item has its worst finding, made without a gate."""
    finding = Finding(Verdict.FAIL, "Fails.", Severity.SAFETY)
    job = Job.new(Header("T", "0" * 32, NOW), procedure())
    return replace(job, findings={**job.findings, item.key: (finding,)})


@pytest.mark.parametrize(
    "item", [i for i in ITEMS if i.severity is Severity.SAFETY], ids=lambda i: i.key
)
def test_safety_item_can_hold(item: Item) -> None:
    can = (
        item.kind == "confirm"
        or bool(item.bad)
        or "fail" in item.words.values()
        or any(checks.load()[b.rule].severity is Severity.SAFETY for b in item.checks)
    )
    assert can, "nothing that can be answered here fails as a safety item"
    job = _held_by(item)
    later = [i for i in ITEMS if i.phase > item.phase and job.applies(i.key)]
    for other in later[:3]:
        assert "Held in phase" in job.refusal(other.key)


@pytest.mark.parametrize(
    "item",
    [i for i in ITEMS if i.kind == "confirm" and not i.when and i.phase < 12],
    ids=lambda i: i.key,
)
def test_no_to_a_confirmation_is_a_failure_of_its_severity(item: Item) -> None:
    job = Job.new(Header("T", "0" * 32, NOW), procedure())
    job = actions.answer(job, item.key, "no", Hand("T", NOW))
    finding = job.finding(item.key)
    assert finding and finding.verdict is Verdict.FAIL and finding.severity is item.severity


def test_every_check_is_used_by_an_item() -> None:
    used = {b.rule for i in ITEMS for b in i.checks}
    assert set(checks.load()) - used == set()


HEAD = '[phase]\nnumber = 1\ntitle = "T"\nplace = "P"\nrisk = "R"\n'
GOOD = (
    '[[item]]\nkey = "a.b"\nask = "A"\nkind = "confirm"\nseverity = "handover"\n'
    'why = "w"\nhow = "h"\nmistake = "m"\n'
)


@pytest.mark.parametrize(
    ("more", "said"),
    [
        ('checks = [{ rule = "no_such" }]', "unknown rule no_such"),
        ('when = { "x.y" = "z" }', "x.y is not asked earlier"),
        ('unit = "V"', "no unit"),
        ('bad = ["x"]', "x is not an option"),
        ('colour = "red"', "unknown colour"),
        ('checks = [{ rule = "supply_voltage", with = { nameplate = "a.b" } }]', "wants measured"),
        (
            'checks = [{ rule = "supply_voltage", with = { nameplate = "a.b", '
            'measured = "a.b" } }]',
            "a.b is flag",
        ),
    ],
)
def test_a_wrong_phase_file_fails_loudly(more: str, said: str) -> None:
    with pytest.raises(ProcedureError) as caught:
        build({"01_x.toml": f"{HEAD}\n{GOOD}{more}\n"})
    assert said in str(caught.value) and "01_x.toml" in str(caught.value)
