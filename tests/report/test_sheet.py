"""The handover sheet: complete, and honest about what is wrong."""

from __future__ import annotations

import re
from dataclasses import replace

from tests.demo.fleet import finished
from tests.report.sheets import EVIDENCE, MADE, of, section
from wizard import actions, service
from wizard.actions import Hand
from wizard.finding import Verdict
from wizard.job import Job
from wizard.report.blocks import (
    Facts,
    Table,
)
from wizard.report.html import html
from wizard.report.md import markdown
from wizard.report.sheet import sheet
from wizard.report.txt import text


def test_a_customer_finds_everything_that_belongs_in_a_handover() -> None:
    job = finished("fifteen_hp")
    made = of(job)
    titles = [s.title for s in made.sections]
    for title in (
        "The machine in brief",
        "Before you use it",
        "Settings as left",
        "Timed runs",
        "Open advisories",
        "Maintenance plan",
        "Consumables",
        "Training given",
        "Signatures",
        "The machine",
        "Results with their limits",
        "Corrections",
        "Instruments",
        "Where the limits come from",
        "How to verify it",
        "Everything that was asked",
    ):
        assert title in titles
    assert made.warnings == ()
    brief = section(made, "The machine in brief")
    assert "Air delivered" in brief and "±" in brief and "PASS" in brief


def test_every_check_with_a_limit_is_in_the_results_with_its_sources() -> None:
    job = finished("fifteen_hp")
    (results,) = (s for s in of(job).sections if s.title == "Results with their limits")
    table = results.blocks[0]
    assert isinstance(table, Table)
    shown = [row for row in table.rows if len(row) > 1]
    limited = [
        f
        for key, found in job.findings.items()
        for f in found
        if job.procedure.items[key].phase > 2 and f.check and f.limit is not None
    ]
    judged = [f for f in limited if f.verdict is not Verdict.NOT_APPLICABLE]
    assert len([row for row in shown if row[2]]) >= len(judged) - 3
    assert all(re.fullmatch(r"\d+(, \d+)*", row[4]) for row in shown)


def test_sources_are_numbered_as_the_results_name_them() -> None:
    made = of(finished("five_hp"))
    listed = section(made, "Where the limits come from")
    (results,) = (s for s in made.sections if s.title == "Results with their limits")
    table = results.blocks[0]
    assert isinstance(table, Table)
    named = {n for row in table.rows if len(row) > 1 for n in row[4].split(", ")}
    assert all(re.search(rf"^{n}\s", listed, re.MULTILINE) for n in named)
    assert "from memory, not looked" in listed and "our judgement" in listed


def test_pressures_stand_in_their_order_and_only_a_real_break_is_marked() -> None:
    ladder = section(of(finished("five_hp")), "Settings as left").partition("one scale")[2]
    names = ("receiver limit", "hose rating", "relief valve set", "cut-out", "cut-in")
    places = [ladder.index(f"\n{name} ") for name in names]
    assert places == sorted(places) and "█ below" not in ladder


def test_corrections_and_what_does_not_apply_are_told_with_reasons() -> None:
    job = finished("five_hp")
    hand = Hand("Tess", job.events[-1].at)
    voltage = job.answers["supply.voltage_single"].raw
    job = actions.answer(job, "supply.voltage_single", "237 V", hand, reason="misread the meter")
    told = section(of(job), "Corrections")
    assert voltage in told and "237 V" in told and "misread the" in told


def test_a_correction_is_told_in_the_words_of_the_options() -> None:
    job = finished("five_hp")
    hand = Hand("Tess", job.events[-1].at)
    options = job.procedure.items["drain.kind"].options
    was = job.answers["drain.kind"].value
    other = next(n for n, o in enumerate(options, 1) if o != was)
    job = actions.answer(job, "drain.kind", str(other), hand, reason="looked again")
    job = actions.answer(job, "drain.kind", str(was), hand, reason="was right")
    (found,) = (s for s in of(job).sections if s.title == "Corrections")
    table = found.blocks[0]
    assert isinstance(table, Table)
    assert [row[1:3] for row in table.rows[-2:]] == [
        (was, options[other - 1]),
        (options[other - 1], was),
    ]


def brief_rows(job: Job) -> dict[str, tuple[str, ...]]:
    (found,) = (s for s in of(job).sections if s.title == "The machine in brief")
    table = found.blocks[1]
    assert isinstance(table, Table)
    return {row[0]: row[1:] for row in table.rows}


def test_the_supply_voltage_says_whether_the_machine_was_loaded() -> None:
    job = finished("five_hp")
    assert brief_rows(job)["Supply voltage, machine loaded"][0] == "233 V"
    before = next(e.seq for e in job.events if e.key == "running.voltage_single")
    cut = Job.replay(job.header, job.procedure, job.events[: before - 1])
    rows = brief_rows(cut)
    assert rows["Supply voltage, compressor off"][0] == "238 V"
    assert not any("loaded" in name for name in rows)


def test_an_early_failure_is_not_hidden_in_the_brief_by_a_later_pass() -> None:
    job = finished("five_hp")
    hand = Hand("Tess", job.events[-1].at)
    job = actions.answer(
        job, "supply.voltage_single", "290 V", hand, reason="read again", confirmed=True
    )
    assert brief_rows(job)["Supply voltage, compressor off"][2] == "FAIL"


def test_nothing_passes_without_a_reading_and_a_conductor_has_its_unit() -> None:
    job = finished("five_hp")
    assert job.answers["receiver.proof_pressure"].value is None
    (found,) = (s for s in of(job).sections if s.title == "Results with their limits")
    table = found.blocks[0]
    assert isinstance(table, Table)
    rows = {row[0]: row[1:] for row in table.rows if len(row) > 1}
    assert not any("proof pressure" in name for name in rows)
    assert all(row[0] for row in rows.values() if row[2] == "PASS")
    assert rows["Grounding conductor"][:2] == ("8 AWG; gives 16510 cmil", "at least 16510 cmil")
    assert rows["Shims under a foot"][0] == "2"


def test_what_was_agreed_is_what_people_wrote() -> None:
    job = finished("five_hp")
    noted = section(of(job), "Open advisories").split("What was done")[1]
    assert "Garage door shut" in noted
    (item,) = job.advisories()
    silent = Job.replay(
        job.header, job.procedure, [e for e in job.events if (e.act, e.key) != ("noted", item.key)]
    )
    (found,) = (s for s in of(silent).sections if s.title == "Open advisories")
    table = found.blocks[0]
    assert isinstance(table, Table)
    assert table.rows[0][2] == "nothing written down"
    assert "Advice: " in table.rows[0][1]
    hand = Hand("Tess", job.events[-1].at)
    again = actions.answer(job, item.key, job.answers[item.key].raw, hand, reason="asked Cas")
    (found,) = (s for s in of(again).sections if s.title == "Open advisories")
    table = found.blocks[0]
    assert isinstance(table, Table) and table.rows[0][2].endswith("corrected: asked Cas")


def test_a_date_on_labels_is_no_instrument() -> None:
    told = " ".join(section(of(finished("five_hp")), "Instruments").split())
    assert "No instrument is listed by name" in told
    assert "labels of those used is 2026-08-01" in told


def test_a_draft_names_intended_pressures_and_has_no_empty_table() -> None:
    job = finished("five_hp")
    cut = Job.replay(job.header, job.procedure, job.events[:150])
    made = of(cut)
    assert "cut-out (intended)" in section(made, "Settings as left")
    assert "Training given" not in [s.title for s in made.sections]
    for found in made.sections:
        for block in found.blocks:
            assert not isinstance(block, Table) or block.rows
            assert not isinstance(block, Facts) or block.pairs


def test_dates_of_the_plan_are_those_of_the_job() -> None:
    job = finished("fifteen_hp")
    plan = section(of(job), "Maintenance plan")
    for task in service.due(job, rounds=True):
        assert task.due.isoformat() in plan


def test_a_plan_says_what_comes_first_only_where_there_is_a_choice() -> None:
    (found,) = (s for s in of(finished("fifteen_hp")).sections if s.title == "Maintenance plan")
    table = found.blocks[1]
    assert isinstance(table, Table)
    repeats = {row[2] for row in table.rows}
    assert "every day" in repeats and "once, by running hours" in repeats
    assert all((" or " in told) == told.endswith(" first") for told in repeats)


def test_a_visit_stands_beside_the_commissioning() -> None:
    job = finished("five_hp")
    hand = Hand("Tess", MADE)
    job = service.open_visit(job, "recheck", hand)
    job = service.answer_visit(job, "belt.condition", "yes", hand)
    job = service.close_visit(job, hand, "called away")
    ask = job.procedure.items["belt.condition"].ask
    assert ask[:14] in section(of(job), "Recheck after the first days, 2026-04-01")


def test_other_units_show_what_was_typed_too() -> None:
    made = section(of(finished("five_hp"), system="metric"), "The machine")
    assert "kW" in made and "(5 hp)" in made and "psig)" in made


def test_a_held_unfinished_or_practice_job_says_so_before_anything_else() -> None:
    job = finished("five_hp")
    hand = Hand("Tess", job.events[-1].at)
    held = actions.answer(job, "guard.fitted", "no", hand, reason="it was off")
    assert any(w.startswith("HELD, DO NOT USE.") for w in of(held).warnings)
    cut = Job.replay(job.header, job.procedure, job.events[:-40])
    assert any("NOT FINISHED" in w for w in of(cut).warnings)
    practice = Job.replay(replace(job.header, practice_run=True), job.procedure, job.events)
    assert of(practice).warnings[0].startswith("PRACTICE.")
    bad = replace(EVIDENCE, problems=("event 7 was altered",))
    assert "DO NOT RELY" in sheet(job, bad, MADE).warnings[0]
    for write in (html, markdown, text):
        shown = write(of(held))
        assert shown.index("HELD") < shown.index("brief")
