"""The dialogue in plain lines: every kind of item, the gate, the stopwatch, a whole machine."""

from __future__ import annotations

import argparse
import os
import re
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tests.demo.maker import Scenario, scenario, text_for
from tests.small import START_TIME, small_procedure
from wizard import actions
from wizard.actions import Hand, NeedsConfirmation
from wizard.commands.dialogue import ask_all, talk
from wizard.commands.dialogue.typed import COMMANDS, Typed, understand
from wizard.errors import InputError, Refused
from wizard.event import Act
from wizard.instrument import Instrument
from wizard.job import Header, Job
from wizard.procedure import procedure
from wizard.remarks import remark
from wizard.settings import settings_from
from wizard.store import Session, create_job, now, open_job, read_job
from wizard.store.draft import keep_draft

ROOT = Path(__file__).parents[1]
SMALL = small_procedure()
PLATES = ("three", "460", "compressor 4", "y", "1", "4")
"""Answers up to the strict phase."""


class Person:
    """Types prepared lines; at their end the input ends."""

    def __init__(self, path: Path, capsys: pytest.CaptureFixture[str]) -> None:
        self.path, self._capsys = path, capsys
        self.prompts: list[str] = []

    def type(self, *lines: str) -> str:
        """A conversation with these lines; what was said."""
        waiting = iter(lines)

        def line(prompt: str) -> str:
            self.prompts.append(prompt)
            try:
                return next(waiting)
            except StopIteration:
                raise EOFError from None

        args = argparse.Namespace(by="Tess Tester", instrument="")
        with open_job(self.path, SMALL, "Tess Tester", "box") as session:
            self.status = ask_all(session, args, line)
        return self._capsys.readouterr().out

    @property
    def job(self) -> Job:
        """The record as it is on the disk."""
        return read_job(self.path, SMALL).job

    def save(self, change: object) -> None:
        """Something done to the record by somebody else."""
        with open_job(self.path, SMALL, "Lee Lead", "box") as session:
            assert callable(change)
            session.save(change(session.job))


@pytest.fixture
def person(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> Person:
    """Somebody in front of a new job."""
    monkeypatch.setenv("XDG_STATE_HOME", str(tmp_path / "state"))
    header = Header("T1", "0" * 32, START_TIME)
    create_job(tmp_path / "T1.toml", header, SMALL, "Tess Tester", "box").close()
    return Person(tmp_path / "T1.toml", capsys)


def hand() -> Hand:
    """Somebody acting now."""
    return Hand("Lee Lead", now())


# -- every kind of item -----------------------------------------------------------


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


# -- the gate ---------------------------------------------------------------------


def test_a_hold_is_said_asked_again_and_cleared_by_a_new_answer(person: Person) -> None:
    told = person.type(*PLATES[:3], "no", "y", "lock fitted", "h")
    assert "HELD in phase 2 by lock.on, “Lock and tag on the disconnect”" in told
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
    assert "Failed: lock.on" in told


def test_nothing_is_pressurised_before_every_safety_item_has_passed(person: Person) -> None:
    told = person.type(*PLATES[:3], "g gauge.reading", "3 psi")
    assert "First, in phase 2: “Lock and tag on the disconnect”." in told
    assert "gauge.reading" not in person.job.answers


def test_a_safety_item_is_never_waived_another_with_a_reason(person: Person) -> None:
    told = person.type(*PLATES[:3], "x no lock here", "y", "/x", "x painted over", "q")
    assert "cannot be marked not applicable" in told
    assert "/not-applicable: given nothing" in told
    assert person.job.waived == {"wire.colours": "painted over"}


# -- doubt, correction, undo ------------------------------------------------------


def test_an_unlikely_value_is_asked_about(person: Person) -> None:
    told = person.type(*PLATES, "250 psi", "n", "250 psi", "y")
    assert "a value taken back" in told
    doubts = [p for p in person.prompts if "outside what is usual" in p]
    assert len(doubts) == 2
    assert doubts[0].endswith("Is 250 psi right? (y/n) ")
    assert person.job.answers["gauge.reading"].confirmed


def test_a_correction_wants_a_reason(person: Person) -> None:
    told = person.type("three", "460", "/g motor.voltage", "480", "", "480", "misread", "q")
    assert "It was 460. Why is it corrected? " in person.prompts
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


# -- going about ------------------------------------------------------------------


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
    assert "  1 motor.voltage, Nameplate voltage as connected" in told
    assert "  1 motor.phases, PASS: Phases of the motor" in told
    assert "  1 motor.phases, Phases of the motor" not in told


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


# -- notes and remarks ------------------------------------------------------------


def test_an_advisory_wants_a_note_and_is_asked_for_it_at_the_end(person: Person) -> None:
    rest = ("0 psi", "12", "0 100; 30 112", "2026-03-02")
    told = person.type(*PLATES[:4], "2", "4", *rest, "as built, drawing changed")
    assert "An advisory wants a note: n TEXT." in told
    assert person.prompts[-1] == "Note> "
    assert told.endswith("T1: finished, 0 items open.\n")
    assert [n.data["text"] for n in person.job.notes["wire.colours"]] == [
        "as built, drawing changed"
    ]


def test_a_note_not_given_is_said_at_the_end(person: Person) -> None:
    rest = ("0 psi", "12", "0 100; 30 112", "2026-03-02")
    told = person.type(*PLATES[:4], "2", "4", *rest, "")
    assert "Want a note: wire.colours." in told
    assert person.status == 1


def test_a_remark_is_read_and_replied_to(person: Person) -> None:
    person.type("three", "460")
    person.save(lambda job: remark(job, "motor.voltage", "As connected?", hand()))
    told = person.type("g motor.voltage", "n yes, by the diagram in the lid", "q")
    assert "Remark of Lee Lead: As connected?" in told
    assert "Replied." in told
    assert person.job.open_remarks() == ()


# -- the stopwatch ----------------------------------------------------------------


@pytest.fixture
def clock(monkeypatch: pytest.MonkeyPatch) -> list[float]:
    """A clock that is set by hand; it moves on by itself by a second a look."""
    seconds = [1000.0]

    def look() -> dict[str, object]:
        seconds[0] += 1.0
        return {"monotonic": seconds[0], "boot": "b" * 8}

    monkeypatch.setattr(talk, "monotonic", look)
    return seconds


def test_enter_starts_and_stops_the_stopwatch(person: Person, clock: list[float]) -> None:
    told = person.type(*PLATES, "0 psi", "", "", "")
    assert "Enter starts the stopwatch, or type the time." in told
    assert "Started." in told
    offered = ["Stopwatch at 0:01, Enter stops> ", "Enter takes it, or type another> "]
    assert person.prompts[-3:-1] == offered
    assert person.job.answers["vent.time"].value == 2.0
    assert [e.act for e in person.job.events if e.key == "vent.time"][:2] == [
        Act.TIMER_STARTED,
        Act.TIMER_STOPPED,
    ]


def test_another_time_can_be_typed_instead(person: Person, clock: list[float]) -> None:
    person.type(*PLATES, "0 psi", "w", "w", "15 s", "q")
    assert person.job.answers["vent.time"].value == 15.0


def test_a_series_takes_readings_while_it_runs(person: Person, clock: list[float]) -> None:
    told = person.type(*PLATES, "0 psi", "12", "", "100", "112 psi", "x7", "120", "", "")
    assert "Reading 2: 112 psi" in told
    assert told.count("Reading ") == 3
    value = person.job.answers["pump.series"].value
    assert isinstance(value, tuple)
    assert [r for _, r in value] == [100.0, 112.0, 120.0]  # type: ignore[misc]


def test_a_stopwatch_goes_on_when_the_line_is_lost(person: Person, clock: list[float]) -> None:
    person.type(*PLATES, "0 psi", "")
    clock[0] += 100.0
    told = person.type("", "", "q")
    assert person.prompts[-3].startswith("Stopwatch at 1:4")
    assert "Stopped: 10" in told
    value = person.job.answers["vent.time"].value
    assert isinstance(value, float)
    assert value > 100.0


def test_a_stopwatch_of_another_boot_is_said(
    person: Person, clock: list[float], monkeypatch: pytest.MonkeyPatch
) -> None:
    person.type(*PLATES, "0 psi", "")
    monkeypatch.setattr(talk, "monotonic", lambda: {"monotonic": 5.0, "boot": "c" * 8})
    told = person.type("", "", "q")
    assert "by the wall clock" in told


def test_only_timed_items_have_a_stopwatch(person: Person) -> None:
    assert "accepted an item that is timed" in person.type("w", "q")


# -- instruments, drafts, failed saves --------------------------------------------


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


# -- what a line means ------------------------------------------------------------


@pytest.mark.parametrize(
    ("key", "line", "meant"),
    [
        ("lock.on", "n", Typed("", "n")),
        ("lock.on", "n later", Typed("n", "later")),
        ("lock.on", "x", Typed("", "x")),
        ("lock.on", "no", Typed("", "no")),
        ("motor.voltage", "s", Typed("s", "")),
        ("motor.voltage", "460 V", Typed("", "460 V")),
        ("motor.voltage", "g label", Typed("g", "label")),
        ("motor.phases", "s", Typed("", "s")),
        ("motor.phases", "t", Typed("", "t")),
        ("motor.phases", "/s", Typed("s", "")),
        ("machine.label", "s", Typed("s", "")),
        ("machine.label", "n of the hall", Typed("", "n of the hall")),
        ("machine.label", "/note of the hall", Typed("n", "of the hall")),
        ("machine.label", "/n  x", Typed("n", "x")),
        ("machine.label", "/", None),
        ("machine.label", "/fly away", None),
        ("machine.label", "/n", None),
        ("machine.label", "/go", None),
    ],
)
def test_a_line_is_an_answer_or_a_command(key: str, line: str, meant: Typed | None) -> None:
    item = SMALL.items[key]
    if meant is None:
        with pytest.raises(InputError, match="accepted"):
            understand(item, line, "us")
    else:
        assert understand(item, line, "us") == meant


@given(st.sampled_from(sorted(SMALL.items)), st.text(max_size=40))
def test_every_line_means_something(key: str, line: str) -> None:
    try:
        typed = understand(SMALL.items[key], line.strip(), "us")
    except InputError as problem:
        assert line.strip().startswith("/")
        assert str(problem)
    else:
        assert typed.command in {"", *(c.letter for c in COMMANDS)}


# -- whole machines by piped input ------------------------------------------------


def lines_for(name: str) -> Iterator[str]:
    """What is typed for a scenario from the first item on: answers, yes to doubts, notes."""
    given = scenario(name)
    header = Header(
        "W1",
        "1" * 32,
        START_TIME,
        given.units,
        settings=settings_from({"practice": given.practice}),
    )
    job = Job.new(header, procedure())
    noted: list[str] = []
    while (item := job.next_item()) is not None and not job.holds():
        text = text_for(item, given)
        yield text
        try:
            job = actions.answer(job, item.key, text, hand())
        except NeedsConfirmation:
            yield "y"
            job = actions.answer(job, item.key, text, hand(), confirmed=True)
        if item.key in given.notes and job.next_item():
            noted.append(item.key)
            yield f"g {item.key}" if _commands_are_free(job) else f"/g {item.key}"
            yield f"/n {given.notes[item.key]}"
            yield ""
            job = actions.note(job, item.key, given.notes[item.key], hand())


def _commands_are_free(job: Job) -> bool:
    following = job.next_item()
    return following is not None and following.kind not in ("write", "choose")


def piped(folder: Path, given: Scenario, lines: list[str], **environment: str) -> tuple[int, str]:
    """The program with all its input in a pipe."""
    code = "import sys; from wizard.cli import main; sys.exit(main())"
    variables = {
        "PATH": os.environ["PATH"],
        "HOME": str(folder),
        "PYTHONPATH": str(ROOT),
        "TERM": "dumb",
        "LANG": "C.UTF-8",
        **environment,
    }
    new = ("new", "W1", "--units", given.units, "--practice", given.practice)
    for words, typed in ((new, ""), (("open", "W1.toml", "--by", "Tess"), "\n".join(lines))):
        told = subprocess.run(
            [sys.executable, "-c", code, *words],
            input=typed.encode() + b"\n",
            capture_output=True,
            env=variables,
            cwd=folder,
        )
    encoding = "ascii" if variables["LANG"] == "C" else "utf-8"
    assert b"Traceback" not in told.stderr
    return told.returncode, told.stdout.decode(encoding)


@pytest.mark.parametrize(
    ("name", "state", "language"),
    [
        ("five_hp", "finished", "C.UTF-8"),
        ("metric_7_5_kw", "finished", "C"),
        ("fifteen_hp_held", "held", "C.UTF-8"),
    ],
)
def test_a_whole_machine_is_answered_by_a_pipe(
    tmp_path: Path, name: str, state: str, language: str
) -> None:
    given = scenario(name)
    status, told = piped(tmp_path, given, list(lines_for(name)), LANG=language)
    job = read_job(tmp_path / "W1.toml", procedure()).job
    assert job.state == state, told[-3000:]
    assert status == {"finished": 1 if job.advisories() else 0, "held": 2}[state]
    assert "\x1b" not in told
    assert told.rstrip().endswith(f"W1: {state}, {len(job.open_items())} items open.")
    assert job.header.units == given.units
    expected = {
        k: text for k, text in given.answers.items() if k in job.answers and job.answers[k].raw
    }
    assert all(job.answers[k].raw == " ".join(text.split()) for k, text in expected.items())
    assert len(job.answers) > 100
    if language == "C":
        assert told.isascii()
        assert "degC" in told
        assert not (tmp_path / "W1.toml").read_text("utf-8").isascii()


def test_bytes_that_are_no_text_are_refused_and_not_raised(tmp_path: Path) -> None:
    code = "import sys; from wizard.cli import main; sys.exit(main())"
    variables = {"PATH": os.environ["PATH"], "HOME": str(tmp_path), "PYTHONPATH": str(ROOT)}
    for words, typed in (
        (("new", "W1"), b""),
        (("enter", "W1.toml"), b"\xff\xfe\nok\x00\x1b[31m\n"),
    ):
        told = subprocess.run(
            [sys.executable, "-c", code, *words],
            input=typed,
            capture_output=True,
            env=variables,
            cwd=tmp_path,
        )
    assert b"Traceback" not in told.stderr
    assert b"\x1b" not in told.stdout
    raws = [a.raw for a in read_job(tmp_path / "W1.toml", procedure()).job.answers.values()]
    assert all(r.isprintable() for r in raws)


def test_a_second_person_is_told_who_has_the_job(tmp_path: Path) -> None:
    header = Header("T1", "0" * 32, START_TIME)
    with create_job(tmp_path / "T1.toml", header, procedure(), "Tess Tester", "box"):
        code = "import sys; from wizard.cli import main; sys.exit(main(['enter', 'T1.toml']))"
        told = subprocess.run(
            [sys.executable, "-c", code], input="", capture_output=True, text=True, cwd=tmp_path
        )
    assert told.returncode == 3
    assert "Tess Tester" in told.stderr
    assert re.search(r"\.$", told.stderr.strip())


def test_the_gate_is_the_one_of_the_job(person: Person) -> None:
    person.type(*PLATES[:3], "no", "q")
    with pytest.raises(Refused):
        actions.answer(person.job, "gauge.reading", "3 psi", hand())
