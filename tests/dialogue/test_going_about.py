"""From item to item; notes, remarks, instruments, drafts."""

from __future__ import annotations

import pytest

from tests.dialogue.person import PLATES, SMALL, Person, hand
from wizard import actions
from wizard.commands.dialogue.typed import COMMANDS
from wizard.instrument import Instrument
from wizard.job import Job
from wizard.remarks import remark
from wizard.store import Session, open_job
from wizard.store.draft import keep_draft


def test_go_takes_a_key_or_a_part_of_it(person: Person) -> None:
    told = person.type("g label", "ship 4", "g motor", "g nothing.here", "q")
    assert person.job.answers["machine.label"].value == "ship 4"
    assert "  motor.phases, Phases of the motor" in told
    assert "Which of them?" in told
    assert "No item has that in its key" in told


def test_before_goes_back(person: Person) -> None:
    told = person.type("three", "b", "b", "q")
    assert "This is the first item." in told
    assert "Answered before: three" in told


def test_skipped_items_are_not_asked_again_and_stay_open(person: Person) -> None:
    told = person.type("s", "s", "s", "y", "s")
    assert told.count("\nPhases of the motor\n") == 1
    assert "T1: in progress" in told
    assert person.status == 1


def test_lists_of_what_is_left_and_of_all(person: Person) -> None:
    told = person.type("three", "l", "l all", "q")
    assert "Phase 1: 2 open." in told
    assert "  Nameplate voltage as connected [motor.voltage]" in told
    assert "Phase 2, Supply: 3 open." in told
    assert "  Conductor colours match the diagram [wire.colours]" not in told
    assert "  1 PASS: Phases of the motor [motor.phases]" in told
    assert "  Phases of the motor [motor.phases]" not in told


def test_help_explains_the_item_and_names_every_command(person: Person) -> None:
    told = person.type("?", "q")
    for line in ("Why: Because.", "How: So.", "Usual mistake: Not so.", "Key: motor.phases"):
        assert line in told
    for command in COMMANDS:
        assert command.about in told


@pytest.mark.parametrize("word", ["q", "/q", "/quit", "/QUIT"[:2].lower()])
def test_leaving_is_always_possible(person: Person, word: str) -> None:
    for before in ((), ("three", "460"), PLATES):
        told = person.type(*before, word)
        assert "items open." in told
        assert person.path.is_file()


def test_the_end_of_input_leaves_in_order(person: Person) -> None:
    told = person.type("three")
    assert told.endswith("items open.\n")
    assert person.job.answers["motor.phases"].value == "three"


def test_an_advisory_wants_a_note_and_is_asked_for_it_at_the_end(person: Person) -> None:
    rest = ("0 psi", "12", "0 100; 30 112", "2026-03-02")
    told = person.type(*PLATES[:4], "2", "", "4", *rest, "s", "as built, drawing changed")
    assert sum(p.startswith("An advisory wants a note, now or ") for p in person.prompts) == 1
    assert person.prompts[-1] == "Note> "
    assert "words: given s, accepted a few words" in told
    assert told.endswith("T1: finished, 0 items open.\n")
    assert [n.data["text"] for n in person.job.notes["wire.colours"]] == [
        "as built, drawing changed"
    ]


def test_a_note_is_taken_at_once_and_belongs_to_the_advisory(person: Person) -> None:
    person.type(*PLATES[:4], "2", "n as built, drawing changed", "q")
    assert [n.data["text"] for n in person.job.notes["wire.colours"]] == [
        "as built, drawing changed"
    ]


def test_a_note_not_given_is_said_at_the_end(person: Person) -> None:
    rest = ("0 psi", "12", "0 100; 30 112", "2026-03-02")
    told = person.type(*PLATES[:4], "2", "", "4", *rest, "")
    assert f"Wants a note: {SMALL.items['wire.colours'].ask} [wire.colours]" in told
    assert person.status == 1


def test_a_remark_is_read_and_replied_to(person: Person) -> None:
    person.type("three", "460")
    person.save(lambda job: remark(job, "motor.voltage", "As connected?", hand()))
    told = person.type("g motor.voltage", "n yes, by the diagram in the lid", "q")
    assert "Remark of Lee Lead: As connected?" in told
    assert "Replied." in told
    assert person.job.open_remarks() == ()


def test_an_instrument_is_listed_and_taken_for_the_reading(person: Person) -> None:
    told = person.type("three", "i new", "meter A", "1 % + 2 V", "2027-01-31", "460", "i", "q")
    assert "Such readings are with meter A." in told
    assert person.job.answers["motor.voltage"].instrument == "meter A"
    listed = person.job.instruments["meter A"]
    assert (listed.of_reading, listed.fixed, str(listed.calibration_due)) == (
        0.01,
        2.0,
        "2027-01-31",
    )


def test_an_instrument_is_described_again_where_a_line_is_not_understood(person: Person) -> None:
    accuracy = ("about 1", "1 % + 3 digits", "", "1 % + 3 digits", "small", "0.1 V")
    told = person.type(
        "three", "i new", "meter A", *accuracy, "6/30/2027", "2027-06-30", "460", "q"
    )
    assert "accepted 1 %, 0.5 % of 16 bar" in told
    assert "it could be read two ways" in told
    assert "Such readings are with meter A." in told
    listed = person.job.instruments["meter A"]
    assert listed.of_reading == 0.01
    assert listed.fixed == pytest.approx(0.3)
    assert str(listed.calibration_due) == "2027-06-30"


def test_an_unknown_instrument_is_refused_by_name(person: Person) -> None:
    person.save(lambda job: actions.list_instrument(job, Instrument("meter B", "meter"), hand()))
    told = person.type("three", "i meter C", "i meter B", "460", "q")
    assert "accepted new, or one of the list: meter B." in told
    assert person.job.answers["motor.voltage"].instrument == "meter B"


def test_a_draft_of_the_screen_is_read_and_its_item_asked(person: Person) -> None:
    keep_draft("0" * 32, "machine.label", "compr")
    told = person.type("compressor 9", "q")
    assert "Typed before and not accepted: compr" in told
    assert person.job.answers["machine.label"].value == "compressor 9"
    assert "Typed before" not in person.type("q")


def test_entries_of_a_failed_save_are_offered(
    person: Person, monkeypatch: pytest.MonkeyPatch
) -> None:
    kept: list[Job] = []

    def fresh(session: Session) -> Job | None:
        return kept.pop() if kept else None

    with open_job(person.path, SMALL, "Tess Tester", "box") as session:
        kept.append(actions.answer(session.job, "motor.phases", "three", hand()))
    monkeypatch.setattr(Session, "rescue", property(fresh, lambda self, value: None), raising=False)
    person.type("y", "q")
    assert "1 entries of a failed save are kept. Take them? (y/n) " in person.prompts
    assert person.job.answers["motor.phases"].value == "three"


def test_on_a_narrow_terminal_lines_break_between_words(
    person: Person, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("sys.stdout.isatty", lambda: True)
    monkeypatch.setenv("COLUMNS", "40")
    told = person.type("?", "q")
    assert all(len(row) < 40 for row in told.splitlines())
    whole = " ".join(told.split())
    assert "n TEXT: a note against the item, or the reply to a remark" in whole
