"""The training record: what it keeps, how it stands, what it advises, and bad files."""

from __future__ import annotations

from datetime import UTC, date, datetime, timedelta

import pytest

from tests.practice.expert import work
from wizard.errors import InputError, RecordDamaged, RecordNewer
from wizard.practice.acts import Act, act
from wizard.practice.record import (
    SKILLS,
    Lesson,
    TrainingRecord,
    advice,
    dumped,
    loaded,
    new_record,
    standings,
    summary,
    with_lesson,
    with_run,
)
from wizard.practice.run import Run
from wizard.practice.scenario import ENDLESS, scenario, scenario_names

AT = datetime(2026, 3, 2, 9, 0, tzinfo=UTC)


def _record(*runs: Run) -> TrainingRecord:
    record = new_record("Ada Prentice", date(2026, 3, 1))
    for number, run in enumerate(runs):
        record = with_run(record, run, AT + timedelta(days=number))
    return record


def _hasty(name: str) -> Run:
    return act(Run.new(name, 3), Act("finish"))


def test_survives_its_file() -> None:
    record = _record(work(Run.new("first_day", 1)), _hasty("the_stamp"))
    lesson = Lesson(at=AT, item="relief.set", skill="pressure safety", right=True, mentor="Bo")
    record = with_lesson(record, lesson)
    text = dumped(record)
    assert text.startswith("practice = true\n")
    assert loaded(text) == record


def test_standing_rises_with_practice() -> None:
    missed = _record(_hasty("first_day"))
    better = _record(*[_hasty("first_day")] * 2, *[work(Run.new("first_day", n)) for n in range(8)])
    before = {s.skill: s for s in standings(missed)}["oil"]
    after = {s.skill: s for s in standings(better)}["oil"]
    assert before.share == 0.0
    assert after.share == 1.0 and after.before == 0.0
    assert [s.skill for s in standings(missed)] == list(SKILLS)


def test_advice_begins_at_the_beginning() -> None:
    given = advice(_record())
    assert given.scenario == "first_day"


def test_advice_goes_to_the_weakest_skill_in_a_fresh_scenario() -> None:
    from wizard.practice.faults import faults

    passed = _hasty("hiss_in_the_night")
    record = _record(passed)
    record = record.changed(runs=[record.runs[0].changed(total=80)])
    given = advice(record)
    assert given.skill == "air"
    assert given.scenario != "hiss_in_the_night"
    assert any(faults()[f].skill == "air" for f in scenario(given.scenario).faults)
    assert "0%" in given.said


def test_a_failed_scenario_is_taken_again_before_the_next() -> None:
    failed = act(Run.new("first_day", 3), Act("open panel"))
    assert advice(_record(failed)).scenario == "first_day"
    assert advice(_record(failed, work(Run.new("first_day", 1)))).scenario != "first_day"


def test_the_page_names_scenarios_and_dangers_by_their_titles() -> None:
    failed = act(Run.new("first_day", 3), Act("open panel"))
    text = "\n".join(summary(_record(failed)))
    assert "First day" in text and "Live panel opened by hand" in text
    assert "Next: First day." in text
    assert "first_day" not in text and "live" not in text


def test_advice_after_everything_is_endless() -> None:
    runs = [work(Run.new(name, 1)) for name in scenario_names()]
    assert advice(_record(*runs)).scenario == ENDLESS


def test_only_an_ended_run_is_kept() -> None:
    with pytest.raises(InputError, match="ended"):
        _record(Run.new("first_day", 1))


@pytest.mark.parametrize("name", ["", "   ", "x" * 81])
def test_a_learner_has_a_name(name: str) -> None:
    with pytest.raises(InputError, match="1 to 80"):
        new_record(name, date(2026, 3, 1))


GOOD = dumped(_record(_hasty("first_day")))


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("nonsense", "cannot be read"),
        ('uuid = "0"\n', "not a training record"),
        (GOOD.replace("practice = true", "practice = false"), "not a training record"),
        (GOOD.replace('format = "practice training', 'format = "job'), "not a training record"),
        (GOOD.replace("total = ", "total = 9"), "runs.0.total"),
        (GOOD.replace("seed = 3", 'seed = "x"'), "runs.0.seed"),
        (GOOD + '\n[extra]\nx = 1\n', "extra"),
    ],
)  # fmt: skip
def test_a_bad_file_is_one_sentence(text: str, said: str) -> None:
    with pytest.raises(RecordDamaged, match=said) as caught:
        loaded(text)
    assert "\n" not in str(caught.value)


def test_a_newer_file_says_so() -> None:
    with pytest.raises(RecordNewer):
        loaded(GOOD.replace("version = 1", "version = 2"))
