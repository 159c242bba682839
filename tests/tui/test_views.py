"""What the views say, from the job alone."""

from __future__ import annotations

import re

import pytest

from tests import small
from tests.demo.maker import commission, scenario
from tests.small import hand, new_job
from wizard import actions
from wizard.errors import InputError
from wizard.finding import Finding, Limit, Severity, Verdict
from wizard.job import Header, Job
from wizard.procedure.loader import build
from wizard.quantities import Quantity
from wizard.render import Units
from wizard.tui.judged import Judged, band_finding, judged
from wizard.tui.spans import BLANK, at_most, between, fitted, line, text_of, width_of, wrapped
from wizard.tui.views.explain import explain
from wizard.tui.views.hold import hold
from wizard.tui.views.masthead import masthead, rail
from wizard.tui.views.options import options
from wizard.tui.views.overview import rows
from wizard.tui.views.question import question
from wizard.tui.views.verdict import (
    Block,
    band,
    below_field,
    packed,
    verdict,
    working,
)

SUPPLY = f"""
[phase]
number = 1
title = "Supply"
place = "At the starter"
risk = "Live parts."
person = "licensed electrician"

[[item]]
key = "motor.voltage"
ask = "Nameplate voltage"
kind = "measure"
quantity = "voltage"
unit = "V"
severity = "handover"
{small.TEXTS}

[[item]]
key = "supply.voltage"
ask = "Line voltage at the starter"
kind = "measure"
quantity = "voltage"
unit = "V"
labels = ["L1-L2", "L2-L3", "L3-L1"]
severity = "safety"
caution = "Live panel."
{small.TEXTS}

[[item.checks]]
rule = "supply_voltage"
with = {{ nameplate = "motor.voltage", measured = "supply.voltage" }}
"""


@pytest.fixture
def job() -> Job:
    """A job whose nameplate says 460 V."""
    made = Job.new(Header("T1", "0" * 32, small.START_TIME), build({"01_supply.toml": SUPPLY}))
    return actions.answer(made, "motor.voltage", "460 V", hand(0))


def shown(job: Job, text: str, width: int = 73, height: int = 14) -> str:
    """The rows below the field with a text in it."""
    state = judged(job, job.procedure.items["supply.voltage"], text)
    return text_of(below_field(state, width, height))


def test_the_band_is_known_before_anything_is_typed(job: Job) -> None:
    assert "Limit: 414 V to 506 V" in shown(job, "")


@pytest.mark.parametrize(
    ("low", "high", "said"),
    [(21.5, 21.5, ["21.5 A"]), (21.501, 21.504, ["21.501 A", "21.504 A"])],
)
def test_ends_of_a_band_that_look_alike_are_shown_once_or_told_apart(
    job: Job, low: float, high: float, said: list[str]
) -> None:
    item = job.procedure.items["supply.voltage"]
    rows = band(Judged(item, Units(), limit=Limit(low, high, "current")), 60)
    assert re.split("  +", text_of(rows[2:]).strip()) == said


def test_markers_follow_the_readings_of_a_set_as_they_come(job: Job) -> None:
    first, second, third = (shown(job, t) for t in ("462", "462 470", "462 470 455"))
    assert "L1-L2 462" in first and "then L2-L3" in first
    assert "then L3-L1" in second and "1" in second.splitlines()[2]
    assert "L1-L2 462  L2-L3 470  L3-L1 455 V" in third
    assert {"1", "2", "3"} <= set(third.splitlines()[2])


def test_the_same_reading_in_another_unit_is_judged_and_drawn_in_it(job: Job) -> None:
    assert "0.414 kV" in shown(job, "0.462 0.463 0.461 kV")


def test_a_failing_reading_says_what_it_does(job: Job) -> None:
    text = shown(job, "300 300 300")
    assert "FAIL, holds the job" in text and "◄" in text
    assert "deviation = (300 V - 460 V) / 460 V" in text


@pytest.mark.parametrize("width", [54, 73, 113])
@pytest.mark.parametrize("height", [3, 6, 9, 14, 30])
def test_rows_fit_whatever_the_terminal(job: Job, width: int, height: int) -> None:
    for text in ("", "4", "462 470 455", "300 300 300", "abc"):
        state = judged(job, job.procedure.items["supply.voltage"], text)
        lines = below_field(state, width, height)
        assert len(lines) <= height
        assert max((width_of(spans) for spans in lines), default=0) <= width


def test_the_verdict_is_the_last_thing_dropped(job: Job) -> None:
    assert "FAIL, holds the job" in shown(job, "300 300 300", 73, 4)


def test_the_explanation_has_working_limit_and_source_with_its_mark(job: Job) -> None:
    item = job.procedure.items["supply.voltage"]
    text = text_of(explain(job, item, judged(job, item, "462 463 461"), 70))
    for part in ("Caution", "Live panel.", "Why", "How", "Usual mistake", "Check: Supply voltage"):
        assert part in text
    assert "band = nameplate × (1 ± tolerance)" in text
    assert "limit 414 V to 506 V" in text
    assert "NEMA" in text and "read in a public copy" in text
    assert "licensed electrician" in text


def test_before_an_answer_the_explanation_names_the_sources(job: Job) -> None:
    item = job.procedure.items["supply.voltage"]
    assert "Source: " in text_of(explain(job, item, judged(job, item, ""), 70))


def test_the_masthead_says_held_in_words(job: Job) -> None:
    held = actions.answer(job, "supply.voltage", "300 300 300", hand(1))
    top = text_of(masthead(held, held.procedure.items["supply.voltage"], 80))
    assert "HELD in phase 1" in top and "licensed electrician" in top and "item 2/2" in top
    assert "■" in text_of(rail(held, held.procedure.items["motor.voltage"], 15, 5))


def test_a_hold_says_limit_danger_and_what_clears_it(job: Job) -> None:
    held = actions.answer(job, "supply.voltage", "300 300 300", hand(1))
    text = text_of(hold(held, "motor.voltage", 73, 4, "F6"))
    assert "by: Line voltage at the starter" in text and "F6 goes there" in text
    assert "limit 414 V to 506 V" in text
    assert "Clears: " in text and "Danger: " in text
    assert hold(job, "motor.voltage", 73, 4, "F6") == []


def test_the_band_stays_that_of_the_reading_while_another_check_decides() -> None:
    own = Finding(Verdict.PASS, "", limit=Limit(1.0, 2.0, "voltage"))
    other = Finding(Verdict.FAIL, "", Severity.SAFETY, limit=Limit(None, 0.01, "ratio"))
    assert band_finding((own, other), "voltage") is own
    assert band_finding((own, other)) is other


def test_a_limit_that_is_not_drawn_is_said_with_its_value(job: Job) -> None:
    item = job.procedure.items["supply.voltage"]
    state = judged(job, item, "462 463 461")
    far = Finding(
        Verdict.FAIL, "Unbalanced.", value=Quantity(0.02, "ratio"), limit=Limit(None, 0.01, "ratio")
    )
    text = text_of(verdict(type(state)(item, state.units, (far,), state.limit), 73))
    assert "2 %, limit at most 1 %" in text


def test_many_options_stand_in_columns() -> None:
    job = new_job()
    item = job.procedure.items["wire.colours"]
    state = judged(job, item, "3")
    assert len(options(item, state, 73, 14)) == 3
    two = options(item, state, 73, 2)
    assert len(two) == 2 and "►  3  not checked" in text_of(two)


def test_columns_are_as_wide_as_their_choices_and_a_choice_that_is_cut_is_said_in_full() -> None:
    job = commission("J1", scenario("fifteen_hp"))
    sound = job.procedure.items["running.sound"]
    shown = text_of(options(sound, judged(job, sound, ""), 73, 10))
    assert "9  belt squeal longer than 3 seconds" in shown and "…" not in shown.splitlines()[0]
    screw = job.procedure.items["terminal.screw"]
    for number, option in enumerate(screw.options, 1):
        state = judged(job, screw, str(number))
        assert f"{number}  {option}" in text_of(below := below_field(state, 73, 14)) or (
            text_of(below[:1]) == f"= {option}"
        )


def test_a_gated_item_is_listed_as_later_and_one_that_is_open_as_open() -> None:
    job = actions.answer(new_job(), "lock.on", "no", hand(1))
    listed = {r.pick: text_of([r.right]).strip() for r in rows(job, "all", "")}
    assert listed["gauge.reading"] == "later" and listed["motor.phases"] == "open"


def test_a_question_never_loses_all_of_its_caution(job: Job) -> None:
    item = job.procedure.items["supply.voltage"]
    for width in (54, 73):
        assert "Caution: Live panel." in text_of(question(job, item, width, 4, "F4"))


def test_lines_are_cut_and_say_so() -> None:
    assert text_of([fitted(line("pressure switch"), 9)]) == "pressure…"
    assert text_of([between(line("a long left"), line("right"), 12)]) == "a lo…  right"
    assert text_of(at_most(wrapped("one two three four", 8), 2, 8)).endswith("…")
    assert width_of(fitted(line("漢漢漢漢"), 5)) <= 5


def test_blocks_of_low_rank_go_first() -> None:
    low, high = Block(1, [line("low")]), Block(9, [line("high")])
    assert packed([low, high], 1) == high.lines
    assert packed([low, Block(5, []), high], 2) == [*low.lines, *high.lines]
    assert BLANK == ()


def test_text_of_a_record_is_shown_as_text() -> None:
    spans = line("[bold]x[/]\x1b]0;t\x07\u202e")
    assert text_of([spans]) == "[bold]x[/]␛]0;t␇‹U+202E›"


def test_a_refusal_is_shown_in_full_sentences(job: Job) -> None:
    state = judged(job, job.procedure.items["supply.voltage"], "abc")
    refused = InputError("Line voltage", "“abc”", "a number in V")
    assert "given “abc”" in text_of(below_field(state, 73, 14, refused=refused))


def test_a_limit_of_something_else_than_the_reading_says_of_what() -> None:
    item = build({"01_supply.toml": SUPPLY}).items["motor.voltage"]
    state = Judged(item, Units(), limit=Limit(None, 1.0, "ratio"), of="share of the slings' rating")
    assert text_of(verdict(state, 60)) == "Limit: share of the slings' rating at most 100 %"


def test_the_working_has_the_width_there_is_and_keeps_its_result(job: Job) -> None:
    state = judged(job, job.procedure.items["supply.voltage"], "462 463 461")
    whole, narrow = (text_of(working(state, width)) for width in (110, 40))
    assert "…" not in whole and len(whole) > 40
    assert width_of(working(state, 40)[0]) <= 40 and "…; " in narrow
    assert narrow.rpartition("; ")[2] == whole.rpartition("; ")[2]
    assert text_of(working(state, 40, typing=True)) != narrow
