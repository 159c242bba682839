"""The limit asked for: only where the reading has no part in it, compared end by end, in words."""

from __future__ import annotations

from dataclasses import replace

import pytest

from tests.small import START_TIME, hand
from wizard import actions
from wizard.errors import InputError
from wizard.finding import Limit
from wizard.job import Header, Job
from wizard.procedure import procedure
from wizard.tui.guided_limit import Asked, answer, asked, compared, question, skill_of, verdict
from wizard.tui.spans import text_of

PLATES = {
    "motor.power": "15 hp",
    "motor.phases": "three",
    "motor.voltage": "460 V",
    "receiver.mawp": "200 psi",
}


def job() -> Job:
    """A job with a few plates."""
    made = Job.new(Header("T1", "0" * 32, START_TIME), procedure())
    for key, text in PLATES.items():
        made = actions.answer(made, key, text, hand(), confirmed=True)
    return made


def limit_of(key: str) -> Asked:
    """What is asked for an item."""
    one = asked(job(), procedure().items[key])
    assert one is not None
    return one


@pytest.mark.parametrize(
    ("key", "text", "word"),
    [
        ("supply.nominal", "414 506", "Right."),
        ("supply.nominal", "414 V 506 V", "Right."),
        ("supply.nominal", "420 506", "Right."),
        ("supply.nominal", "424 506", "Near."),
        ("supply.nominal", "360 506", "Not so."),
        ("relief.set", "200 psi", "Right."),
        ("relief.set", "13.79 bar", "Right."),
        ("relief.set", "220", "Near."),
        ("relief.set", "230", "Not so."),
        ("place.wall_flywheel", "1 ft", "Right."),
        ("place.wall_flywheel", "305 mm", "Right."),
        ("place.wall_flywheel", "24", "Not so."),
        ("oil.flash_point", "351 °F", "Right."),
        ("oil.flash_point", "180 °C", "Near."),
        ("oil.flash_point", "200 °C", "Not so."),
    ],
)
def test_a_guess_is_right_near_or_not_so(key: str, text: str, word: str) -> None:
    assert verdict(compared(limit_of(key), text))[0] == word


@pytest.mark.parametrize(
    ("key", "text", "accepted"),
    [
        ("supply.nominal", "414", "2"),
        ("supply.nominal", "414 506 600", "2"),
        ("relief.set", "-5 psi psi", "units psig"),
        ("relief.set", "high", "number"),
        ("relief.set", "200 V", "psi"),
    ],
)
def test_what_is_no_limit_is_refused(key: str, text: str, accepted: str) -> None:
    with pytest.raises(InputError, match=accepted):
        compared(limit_of(key), text)


def test_a_looser_guess_and_a_stricter_one_are_told_apart() -> None:
    one = limit_of("relief.set")
    loose = " ".join(text_of(answer(one, compared(one, "230"), 200)).split())
    strict = " ".join(text_of(answer(one, compared(one, "150"), 200)).split())
    assert "Your highest is 30 psi too high: you would have let pass" in loose
    assert "Your highest is 50 psi too low: you would have refused" in strict


def test_where_one_number_alone_passes_it_is_asked_and_told_as_one() -> None:
    plate = ("motor.current", "motor.service_factor", "overload.kind", "overload.dial")
    texts = ("21.5 A", "1", "separate overload relay", "motor current")
    made = job()
    for key, text in zip(plate, texts, strict=True):
        made = actions.answer(made, key, text, hand(), confirmed=True)
    dial = asked(made, procedure().items["overload.setting"])
    assert dial is not None and "the lowest and the highest" in dial.shape
    one = replace(dial, limit=Limit(21.5, 21.5, "current"))
    assert "the only one that passes" in one.shape
    told = " ".join(text_of(answer(one, compared(one, "20"), 200)).split())
    assert "Overload setting: exactly 21.5 A" in told
    assert "You said exactly 20 A." in told
    assert "That is 1.5 A too low: one number passes." in told


def test_an_input_taken_for_the_result_is_recognised() -> None:
    one = limit_of("supply.nominal")
    told = " ".join(text_of(answer(one, compared(one, "460 506"), 200)).split())
    assert "That is the nameplate itself, with which the working only begins." in told
    assert "460 V × (1 ± 10 %)" in told


def test_the_question_gives_the_shape_and_what_is_known_but_not_the_limit() -> None:
    told = text_of(question(limit_of("supply.nominal"), 200))
    assert "two numbers, V: the lowest and the highest that pass" in told
    assert "460 V" in told and "414" not in told and "506" not in told
    least = text_of(question(limit_of("place.wall_flywheel"), 200))
    assert "one number, in: the least that passes" in least and "12" not in least


def test_a_figure_of_a_table_is_given_with_the_table() -> None:
    made = job()
    for key, text in (("motor.current", "18 A"), ("motor.service_factor", "1")):
        made = actions.answer(made, key, text, hand(), confirmed=True)
    one = asked(made, procedure().items["disconnect.rating"])
    assert one is not None
    told = text_of(question(one, 300))
    assert "Full-load current from the code table, NEC 430.6(A)" in told
    assert "21 A" in told and "24.15" not in told
    assert verdict(compared(one, "24.15"))[0] == "Right."


def test_a_limit_of_something_else_than_the_reading_says_of_what() -> None:
    one = limit_of("relief.set")
    assert not one.other and "follows from the reading" not in text_of(question(one, 200))
    other = replace(one, limit=Limit(None, 30.0, "current"))
    told = text_of(question(other, 200))
    assert "a limit of the current (A) that follows from the reading" in told
    assert "not of the reading (psig)" in told and "one number, A" in told


@pytest.mark.parametrize(
    ("key", "why"),
    [
        ("motor.frequency", "no check"),
        ("energy.proof_after", "the reading has no part in the limit"),
        ("energy.gauge", "a limit of nothing"),
        ("relief.plate_capacity", "the limit is not known from the plates alone, or there is none"),
        ("motor.voltage", "answered"),
        ("start.hold_pressure", "not yet to be answered"),
    ],
)
def test_where_there_is_nothing_to_work_out_nothing_is_asked(key: str, why: str) -> None:
    assert asked(job(), procedure().items[key]) is None, why


@pytest.mark.parametrize(
    ("key", "skill"),
    [
        ("hose.working_pressure", "pressure safety"),
        ("overload.setting", "protection"),
        ("supply.voltage", "supply"),
        ("foot.gap_four", "mounting"),
        ("oil.level_glass", "oil"),
        ("energy.gauge", "safe working"),
        ("job.site", "order of work"),
    ],
)
def test_every_item_practises_a_skill(key: str, skill: str) -> None:
    assert skill_of(procedure().items[key]) == skill
