"""Every kind of item, the gate, doubt and correction."""

from __future__ import annotations

import pytest

from tests.dialogue.person import PLATES, Person, hand
from wizard import actions
from wizard.commands.dialogue import talk
from wizard.errors import Refused
from wizard.event import Act


def test_every_kind_is_answered_and_saved(person: Person) -> None:
    told = person.type(*PLATES, "0 psi", "12", "0 100; 30 112; 60 124", "2026-03-02")
    values = {k: a.value for k, a in person.job.answers.items()}
    assert values["motor.phases"] == "three"
    assert values["motor.voltage"] == 460.0
    assert values["machine.label"] == "compressor 4"
    assert values["lock.on"] is True
    assert values["wire.colours"] == "as the diagram"
    assert values["pads.count"] == 4
    assert values["vent.time"] == 12.0
    assert values["pump.series"] == ((0.0, 100.0), (30.0, 112.0), (60.0, 124.0))
    assert str(values["start.date"]) == "2026-03-02"
    assert told.endswith("T1: finished, 0 items open.\n")
    assert person.status == 0
    assert all(a.by == "Tess Tester" for a in person.job.answers.values())


def test_the_question_says_where_what_and_in_which_unit(person: Person) -> None:
    told = person.type("three")
    assert "Phase 1 of 3, Plates: 3 open here" in told
    assert "Place: At the machine." in told
    assert "Risk: None." in told
    assert "  1 single\n  2 three\n" in told
    assert "Nameplate voltage as connected [V]" in told


def test_place_and_risk_are_said_where_a_phase_begins(person: Person) -> None:
    told = person.type(*PLATES)
    assert told.count("Place: At the machine.") == 2
    assert told.count("Risk: Live parts.") == 1
    assert "Caution: Licensed electrician." in told


def test_what_cannot_be_used_is_one_sentence_and_asked_again(person: Person) -> None:
    told = person.type("four", "three", "9 V", "4..6", "460 rpm", "", "460")
    assert "given “four”, accepted 1 single; 2 three." in told
    assert "given 9 V, accepted 100 V to 690 V." in told
    assert told.count("Nameplate voltage as connected: given") == 4
    assert person.job.answers["motor.voltage"].value == 460.0


def test_n_alone_is_no_and_with_words_a_note(person: Person) -> None:
    told = person.type(*PLATES[:3], "n the key is with the foreman", "n")
    assert "Noted." in told
    assert person.job.answers["lock.on"].value is False
    assert [str(n.data["text"]) for n in person.job.notes["lock.on"]] == [
        "the key is with the foreman"
    ]


def test_any_text_is_an_answer_where_text_is_asked(person: Person) -> None:
    person.type("three", "460", "q 7 in the hall")
    assert person.job.answers["machine.label"].value == "q 7 in the hall"


def test_a_command_as_text_is_an_answer_with_a(person: Person) -> None:
    person.type("three", "460", "/a q")
    assert person.job.answers["machine.label"].value == "q"


def test_a_hold_is_said_asked_again_and_cleared_by_a_new_answer(person: Person) -> None:
    told = person.type(*PLATES[:3], "no", "y", "lock fitted", "h")
    assert "HELD in phase 2 by “Lock and tag on the disconnect” [lock.on]" in told
    assert "It was no." not in told
    assert "Nothing holds the job." in told
    job = person.job
    assert [e.act for e in job.events if "hold" in e.act] == [Act.HOLD_RAISED, Act.HOLD_CLEARED]
    assert next(e for e in job.events if e.act is Act.CORRECTED).data["reason"] == "lock fitted"


def test_a_hold_can_be_skipped_but_not_passed(person: Person) -> None:
    told = person.type(*PLATES[:3], "no", "s", "g gauge.reading", "3 psi", "q")
    assert "Held in phase 2" in told
    assert "gauge.reading" not in person.job.answers
    assert "T1: held" in told
    assert person.status == 2


def test_a_hold_is_left_alone_when_nothing_else_can_be_done(person: Person) -> None:
    told = person.type(*PLATES[:3], "no", "s", "1", "4")
    assert told.endswith("T1: held, 4 items open.\n")
    assert "Failed: Lock and tag on the disconnect [lock.on]" in told


def test_a_hold_is_not_lifted_by_undo(person: Person) -> None:
    told = person.type(*PLATES[:3], "no", "u", "q")
    assert "A hold is not taken back, answer again with a reason: “Lock and tag" in told
    assert person.job.answers["lock.on"].value is False
    assert person.status == 2


def test_what_holds_is_left_behind_once_something_else_is_answered(person: Person) -> None:
    person.type(*PLATES[:3], "no", "g wire.colours", "1", "4", "y", "lock fitted")
    assert person.job.answers["pads.count"].value == 4
    assert person.job.state == "in progress"


def test_nothing_is_pressurised_before_every_safety_item_has_passed(person: Person) -> None:
    told = person.type(*PLATES[:3], "g gauge.reading", "3 psi")
    assert "First, in phase 2: “Lock and tag on the disconnect”." in told
    assert "gauge.reading" not in person.job.answers


def test_a_safety_item_is_never_waived_another_with_a_reason(person: Person) -> None:
    told = person.type(*PLATES[:3], "x no lock here", "y", "/x", "x painted over", "q")
    assert "cannot be marked not applicable" in told
    assert "/not-applicable: given nothing" in told
    assert person.job.waived == {"wire.colours": "painted over"}


def test_the_gate_is_the_one_of_the_job(person: Person) -> None:
    person.type(*PLATES[:3], "no", "q")
    with pytest.raises(Refused):
        actions.answer(person.job, "gauge.reading", "3 psi", hand())


def test_an_unlikely_value_is_asked_about(person: Person) -> None:
    told = person.type(*PLATES, "250 psi", "n", "250 psi", "y")
    assert "a value taken back" in told
    doubts = [p for p in person.prompts if "outside what is usual" in p]
    assert len(doubts) == 2
    assert doubts[0].endswith("Is 250 psi right? (y/n) ")
    assert person.job.answers["gauge.reading"].confirmed


def test_a_correction_wants_a_reason(person: Person) -> None:
    told = person.type("three", "460", "/g motor.voltage", "480", "", "480", "s", "misread", "q")
    assert "It was 460. Why is it corrected? Enter leaves it so> " in person.prompts
    assert "words: given s, accepted a few words, or Enter for none" in told
    assert "reason for correcting" in told
    assert person.job.answers["motor.voltage"].value == 480.0


def test_enter_leaves_an_answer_as_it_is(person: Person) -> None:
    told = person.type("three", "460", "/go motor.voltage", "", "q")
    assert "Answered before: 460" in told
    assert person.job.answers["motor.voltage"].seq == 2


def test_undo_takes_the_last_answer_back_and_asks_it_again(person: Person) -> None:
    told = person.type("three", "460", "/u wrong plate", "u", "/undo", "u", "q")
    assert "Taken back: motor.voltage, 460" in told
    assert "Taken back: motor.phases, three" in told
    assert "There is no answer to take back." in told
    assert person.job.answers == {}
    reasons = [e.data["reason"] for e in person.job.events if e.act is Act.WITHDRAWN]
    assert reasons == ["wrong plate", talk.AT_ONCE]


def test_it_is_said_how_a_choice_was_taken_and_how_to_answer_yes_or_no(person: Person) -> None:
    told = person.type("1", "460", "compressor 4", "q")
    assert "Taken as single." in told or "Taken as three." in told
    assert "Taken as 460 V." in told
    assert "Taken as compressor 4" not in told
    assert "Answer y or n." in told


def test_a_held_job_says_so_when_it_is_opened(person: Person) -> None:
    person.type("three", "460", "compressor 4", "n", "q")
    assert "HELD in phase" in person.type("q")
