"""The commands as scripts see them: exit status, data on stdout, narration on stderr, JSON."""

from __future__ import annotations

import io
import json
import os
import shutil
import subprocess
import sys
from contextlib import redirect_stderr, redirect_stdout
from pathlib import Path
from typing import Any

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from tests.demo.maker import START, Clock, give, scenario, text_for
from wizard import calc, checks
from wizard.cli import main
from wizard.commands.site import site
from wizard.formula import PLAIN_KINDS, Parameter
from wizard.job import Header, Job
from wizard.kinds import KINDS
from wizard.procedure import procedure
from wizard.store import create_job, read_job

ROOT = Path(__file__).parents[1]
HELD = ROOT / "demo_jobs" / "DEMO-15HP.toml"
CALCULATIONS = {**calc.load(), **checks.load()}
GOOD, UNFINISHED, FAILED, UNREADABLE, USAGE = 0, 1, 2, 3, 64


@pytest.fixture(autouse=True)
def place(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A folder to work in and nobody's settings."""
    for name in ("CONFIG", "STATE", "CACHE"):
        monkeypatch.setenv(f"XDG_{name}_HOME", str(tmp_path / "own" / name.lower()))
    monkeypatch.setenv("WIZARD_NAME", "Tess Tester")
    monkeypatch.chdir(tmp_path)
    site.cache_clear()
    return tmp_path


def run(*words: str) -> tuple[int, str, str]:
    """Exit status, stdout and stderr; wrong usage ends the parser by itself."""
    out, err = io.StringIO(), io.StringIO()
    with redirect_stdout(out), redirect_stderr(err):
        try:
            status = main(words)
        except SystemExit as end:
            status = int(end.code or 0)
    return status, out.getvalue(), err.getvalue()


def data(*words: str) -> Any:
    """The JSON value on stdout."""
    return json.loads(run(*words)[1], parse_constant=lambda word: pytest.fail(word))


def one_sentence(err: str) -> str:
    """Stderr, which must be one line that ends like a sentence and carries no control character."""
    assert err.endswith("\n")
    line = err[:-1]
    assert line.isprintable(), line
    assert line[-1] in ".?!”", line
    return line


def answered(path: Path, until: str) -> None:
    """A record of the five horsepower machine, answered up to but not including an item."""
    told = scenario("five_hp")
    header, clock = Header(path.stem, "2" * 32, START, told.units), Clock()
    job = Job.new(header, procedure())
    for item in procedure().items.values():
        if item.key == until:
            break
        if job.applies(item.key) and not job.refusal(item.key):
            job = give(job, item, text_for(item, told), clock)
    with create_job(path, job.header, procedure(), "Tess Tester", "box") as session:
        session.save(job)


# -- usage ------------------------------------------------------------------------


@pytest.mark.parametrize("words", [("--help",), ("--version",), ("calc", "--help")])
def test_help_is_data_and_good(words: tuple[str, ...]) -> None:
    status, out, err = run(*words)
    assert (status, err) == (GOOD, "")
    assert "wizard" in out


@pytest.mark.parametrize(
    "words",
    [("fly",), ("check",), ("new",), ("new", "J1", "--units", "yards"), ("items", "--xml")],
)
def test_wrong_usage_is_64_with_nothing_on_stdout(words: tuple[str, ...]) -> None:
    status, out, err = run(*words)
    assert (status, out) == (USAGE, "")
    assert err.startswith("usage: wizard")


def test_open_on_a_terminal_of_lines_wants_a_job(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("TERM", "dumb")
    status, out, err = run()
    assert (status, out) == (USAGE, "")
    assert "wizard open" in one_sentence(err)


# -- new --------------------------------------------------------------------------


def test_new_makes_one_file_and_never_overwrites(place: Path) -> None:
    status, out, err = run("new", "J1", "--units", "metric", "--practice", "IEC")
    assert (status, out) == (UNFINISHED, "")
    assert "J1.toml is made" in one_sentence(err)
    before = Path("J1.toml").read_bytes()
    status, out, err = run("new", "J1")
    assert (status, out) == (UNREADABLE, "")
    assert "exists already" in one_sentence(err)
    assert Path("J1.toml").read_bytes() == before
    header = read_job(Path("J1.toml"), procedure()).job.header
    assert (header.units, header.settings.practice) == ("metric", "IEC")


@pytest.mark.parametrize("name", ["", "j1", "../J1", "J 1", "J1\x1b[31m", "J" * 65, "J1/x"])
def test_a_bad_job_number_is_one_sentence_and_no_file(place: Path, name: str) -> None:
    status, out, err = run("new", name)
    assert (status, out) == (UNREADABLE, "")
    one_sentence(err)
    assert not list(place.glob("*.toml"))


MACHINE = 'format = "wizard-machine"\nunits = "metric"\npractice = "IEC"\n[answers]\n'


def test_a_machine_file_answers_the_plates() -> None:
    Path("m.toml").write_text(MACHINE + '"motor.voltage" = "400 V"\n"job.site" = "Hall 4"\n')
    status, _, err = run("new", "J1", "--machine", "m.toml")
    assert status == UNFINISHED
    assert "2 of its items are answered" in err
    job = read_job(Path("J1.toml"), procedure()).job
    assert job.header.units == "metric"
    assert job.answers["motor.voltage"].value == 400.0


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("x = \ny = 1\n", "line 1"),
        ("x = 1", "neither a machine file"),
        (MACHINE.replace("metric", "yards"), "us or metric"),
        (MACHINE.replace("IEC", "XX"), "US or IEC"),
        (MACHINE + '"nothing.known" = "1"', "keys of phase 1"),
        (MACHINE + '"motor.voltage" = "9 kA"', "motor.voltage"),
        (MACHINE.replace("[answers]\n", "answers = 1"), "no [answers]"),
    ],
)
def test_a_bad_machine_file_is_one_sentence_and_no_job(text: str, words: str) -> None:
    Path("m.toml").write_text(text)
    status, out, err = run("new", "J1", "--machine", "m.toml")
    assert (status, out) == (UNREADABLE, "")
    assert words in one_sentence(err)
    assert not Path("J1.toml").exists()


# -- enter ------------------------------------------------------------------------


def test_an_answer_is_saved_and_its_finding_printed() -> None:
    run("new", "J1")
    status, out, err = run("enter", "J1.toml", "motor.phases=three", "motor.voltage=460 V")
    assert (status, err) == (GOOD, "")
    assert "motor.voltage: PASS" in out
    answers = read_job(Path("J1.toml"), procedure()).job.answers
    assert answers["motor.voltage"].value == 460.0
    assert answers["motor.voltage"].by == "Tess Tester"


@pytest.mark.parametrize(
    ("words", "status", "said"),
    [
        (("motor.voltage=9 kA",), UNREADABLE, "units V, mV, kV"),
        (("motor.voltage=",), UNREADABLE, "given nothing"),
        (("motor.volts=460",), UNREADABLE, "motor.voltage"),
        (("motor.voltage",), UNREADABLE, "KEY=VALUE"),
        (("motor.voltage=460", "motor.voltage=480"), UNREADABLE, "a few words"),
        (("--na", "lock.on"), UNREADABLE, "KEY=VALUE"),
        (("--note", "motor.voltage="), UNREADABLE, "1 to 400 characters"),
    ],
)
def test_a_refused_answer_is_one_sentence(words: tuple[str, ...], status: int, said: str) -> None:
    run("new", "J1")
    found, _, err = run("enter", "J1.toml", *words)
    assert found == status
    assert said in one_sentence(err)


@pytest.mark.parametrize(
    "words",
    [
        ("J1.toml", "motor.phases=three", "motor.voltage=460 V", "--by", "Ann", "--confirm"),
        ("J1.toml", "--by", "Ann", "motor.phases=three", "--confirm", "motor.voltage=460 V"),
        ("--by", "Ann", "J1.toml", "motor.phases=three", "--confirm", "motor.voltage=460 V"),
    ],
)
def test_options_may_stand_anywhere_among_the_answers(place: Path, words: tuple[str, ...]) -> None:
    run("new", "J1")
    assert run("enter", *words)[0] == GOOD
    answers = read_job(place / "J1.toml", procedure()).job.answers
    assert {k: a.by for k, a in answers.items()} == {"motor.phases": "Ann", "motor.voltage": "Ann"}


@pytest.mark.parametrize("words", [("--start", "recheck", "--by", "Ann"), ()])
def test_a_visit_takes_options_before_its_answers(place: Path, words: tuple[str, ...]) -> None:
    shutil.copy(ROOT / "demo_jobs" / "DEMO-5HP.toml", place)
    if not words:
        run("visit", "DEMO-5HP.toml", "--start", "recheck")
    run("visit", "DEMO-5HP.toml", *words, "belt.condition=yes", "--note", "dry", "guard.off=yes")
    visit = read_job(place / "DEMO-5HP.toml", procedure()).job.visits[1]
    assert set(visit.answers) == {"belt.condition", "guard.off"} and len(visit.notes) == 1


def test_what_was_accepted_before_a_refusal_stays() -> None:
    run("new", "J1")
    assert run("enter", "J1.toml", "motor.phases=three", "motor.voltage=x")[0] == UNREADABLE
    assert set(read_job(Path("J1.toml"), procedure()).job.answers) == {"motor.phases"}


def test_nothing_is_answered_past_a_hold(place: Path) -> None:
    shutil.copy(HELD, "DEMO-15HP.toml")
    status, out, err = run("enter", "DEMO-15HP.toml", "handover.statement=yes")
    assert (status, out) == (FAILED, "")
    assert "Held in phase 11" in one_sentence(err)


def test_a_correction_wants_a_reason_and_keeps_the_old_value() -> None:
    run("new", "J1")
    run("enter", "J1.toml", "motor.voltage=460")
    status, _, _ = run("enter", "J1.toml", "motor.voltage=480", "--reason", "misread")
    assert status == GOOD
    last = read_job(Path("J1.toml"), procedure()).job.events[-1]
    assert (last.data["was"], last.data["reason"]) == ("460", "misread")


# -- a logger's file --------------------------------------------------------------

LOG = "time [s],pressure [psi]\n" + "".join(f"{n * 20},{20 + n * 10}\n" for n in range(12))


@pytest.fixture(scope="module")
def pumping(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A record that waits for the pump-up run."""
    path = tmp_path_factory.mktemp("pumping") / "P1.toml"
    answered(path, "pumpup.series")
    return path


@pytest.mark.parametrize(
    ("text", "extra", "remark"),
    [
        (LOG, (), ""),
        (LOG.replace(" [psi]", ""), ("--unit", "pressure=psi"), ""),
        (LOG.replace("\n40,", "\n20,"), (), "repeated times"),
    ],
)
def test_a_series_is_taken_with_what_was_noticed(
    pumping: Path, text: str, extra: tuple[str, ...], remark: str
) -> None:
    shutil.copy(pumping, "P1.toml")
    Path("log.csv").write_text(text)
    words = ("enter", "P1.toml", "pumpup.series=@log.csv", "--confirm", *extra)
    status, out, err = run(*words)
    assert status in (GOOD, UNFINISHED, FAILED)
    assert "pumpup.series: " in out
    job = read_job(Path("P1.toml"), procedure()).job
    assert isinstance(job.answers["pumpup.series"].value, tuple)
    assert (remark in err) if remark else (err == "")
    noted = [str(n.data["text"]) for n in job.notes.get("pumpup.series", ())]
    assert any(remark in n for n in noted) if remark else noted == []


@pytest.mark.parametrize(
    ("text", "said"),
    [
        (b"", "a header and at least two readings"),
        (b"time,pressure\n1,2\n", "a header and at least two readings"),
        (LOG.replace(" [psi]", "").encode(), "--unit pressure=UNIT"),
        (LOG.replace("\n40,40", "\n40,x").encode(), "line 4"),
        (LOG.replace("\n40,", "\n10,").encode(), "do not go back"),
        (b"\xff\xfe" * 40, "not UTF-8"),
    ],
)
def test_a_bad_log_is_one_sentence_and_changes_nothing(
    pumping: Path, text: bytes, said: str
) -> None:
    shutil.copy(pumping, "P1.toml")
    Path("log.csv").write_bytes(text)
    before = Path("P1.toml").read_bytes()
    status, out, err = run("enter", "P1.toml", "pumpup.series=@log.csv")
    assert (status, out) == (UNREADABLE, "")
    assert said in one_sentence(err)
    assert Path("P1.toml").read_bytes() == before


# -- check ------------------------------------------------------------------------


def test_check_of_a_held_job() -> None:
    status, out, err = run("check", str(HELD))
    assert (status, err) == (FAILED, "")
    assert out.startswith("DEMO-15HP  HELD")
    found = data("check", "--json", str(HELD))
    assert {"job", "state", "holds", "open", "findings"} <= set(found)
    assert (found["job"], found["state"]) == ("DEMO-15HP", "held")
    assert found["holds"] == ["hose.working_pressure"]
    for finding in found["findings"]:
        named = {"key", "check", "verdict", "severity", "value", "unit", "limit", "working"}
        assert {*named, "source"} <= set(finding)
        if finding["limit"]:
            assert set(finding["limit"]) == {"low", "high", "unit"}
        if finding["source"]:
            assert set(finding["source"]) == {"text", "mark"}


def test_check_of_many_is_the_worst_and_goes_on_after_a_bad_one(place: Path) -> None:
    run("new", "J1")
    Path("J2.toml").write_text("not a job")
    status, out, err = run("check", "J2.toml", "J1.toml", str(HELD))
    assert status == UNREADABLE
    assert "J1  IN PROGRESS" in out
    assert "DEMO-15HP  HELD" in out
    assert one_sentence(err).startswith("J2.toml")
    found = data("check", "--json", "J2.toml", "J1.toml")
    assert [f["state"] for f in found] == ["unreadable", "in progress"]
    assert found[0]["error"]


@pytest.mark.parametrize("name", ["missing.toml", "nowhere/J1.toml", "own", "J1", "\x1b[31m.toml"])
def test_a_job_that_cannot_be_read_is_one_sentence(name: str) -> None:
    for command in ("check", "enter"):
        status, out, err = run(command, name, *(["job.site=x"] if command == "enter" else []))
        assert (status, out) == (UNREADABLE, "")
        one_sentence(err)


# -- items and calc ---------------------------------------------------------------


def test_items_are_the_procedure() -> None:
    found = data("items", "--json")["items"]
    assert [i["key"] for i in found] == list(procedure().items)
    named = {"phase", "key", "kind", "ask", "unit", "severity", "when", "checks", "why", "how"}
    for item in found:
        assert {*named, "mistake", "caution"} <= set(item)
        for rule in item["checks"]:
            assert set(rule["source"]) == {"text", "mark"}
            assert rule["name"] in CALCULATIONS
    status, out, _ = run("items")
    assert status == GOOD
    assert all(f" {key} " in out for key in procedure().items)


def test_every_calculation_is_listed_and_described() -> None:
    found = data("calc", "--list", "--json")["calculations"]
    assert {c["name"] for c in found} == set(CALCULATIONS)
    for one in found:
        assert {"name", "title", "parameters", "results", "source"} <= set(one)
        for parameter in one["parameters"]:
            assert {"name", "unit", "about"} <= set(parameter)
    status, out, _ = run("calc", "supply_voltage")
    assert status == GOOD
    assert "nameplate=" in out
    assert "source:" in out


def test_a_check_and_a_formula_as_json() -> None:
    words = ("nameplate=230 V", "measured=241 V", "--json")
    found = data("calc", "supply_voltage", *words)
    assert found["verdict"] == "PASS"
    assert found["limit"]["unit"] == "V"
    assert found["limit"]["low"] == pytest.approx(207.0)
    assert found["inputs"]["nameplate"] == {"value": 230.0, "unit": "V"}
    assert set(found["source"]) == {"text", "mark"}
    band = data("calc", "voltage_band", "nameplate=230 V", "--json")
    assert band["verdict"] is None
    assert set(band["results"]) == {"low", "high"}
    assert band["result"] == band["results"]["low"]


@pytest.mark.parametrize(
    ("measured", "status"), [("241 V", GOOD), ("300 V", FAILED), ("x", UNREADABLE)]
)
def test_the_status_of_a_check_is_its_verdict(measured: str, status: int) -> None:
    assert run("calc", "supply_voltage", "nameplate=230", f"measured={measured}")[0] == status


@pytest.mark.parametrize(
    "words",
    [
        ("nothing_known",),
        ("supply_voltage", "nameplate=230"),
        ("supply_voltage", "volts=230"),
        ("supply_voltage", "nameplate"),
        ("supply_voltage", "nameplate=230", "measured="),
        ("supply_voltage", "nameplate=230 \x1b[31m", "measured=1"),
    ],
)
def test_a_calculation_that_cannot_be_made_is_one_sentence(words: tuple[str, ...]) -> None:
    status, out, err = run("calc", *words)
    assert (status, out) == (UNREADABLE, "")
    assert "accepted" in one_sentence(err)


# -- the program as a process -----------------------------------------------------


def process(*words: str, **more: Any) -> subprocess.CompletedProcess[bytes]:
    """The program by itself."""
    code = "import sys; from wizard.cli import main; sys.exit(main())"
    environment = {**os.environ, "PYTHONPATH": str(ROOT), **more.pop("env", {})}
    command = [sys.executable, "-c", code, *words]
    return subprocess.run(command, stderr=subprocess.PIPE, env=environment, **more)


def test_a_reader_that_goes_away_is_no_error() -> None:
    reading, writing = os.pipe()
    os.close(reading)
    done = process("calc", "--list", stdout=writing)
    os.close(writing)
    assert done.returncode == UNREADABLE
    assert done.stderr == b""


@pytest.mark.skipif(not Path("/dev/full").exists(), reason="no /dev/full here")
def test_a_full_disk_under_stdout_is_one_sentence() -> None:
    with Path("/dev/full").open("wb") as full:
        done = process("calc", "--list", stdout=full)
    assert done.returncode == UNREADABLE
    assert "no space left" in one_sentence(done.stderr.decode())


def test_json_is_json_in_every_locale() -> None:
    for language in ("C", "C.UTF-8"):
        done = process("items", "--json", stdout=subprocess.PIPE, env={"LC_ALL": language})
        assert done.stderr == b""
        assert json.loads(done.stdout)["items"][0]["key"] == "job.site"


# -- whatever is typed ------------------------------------------------------------

NUMBERS = st.sampled_from(
    ["0", "1", "-1", "0,5", "1/2", "3 1/2", "1e5", "999999999999999", ".001", "7..2", "", "x"]
)
TEXTS = st.one_of(
    st.text(max_size=12),
    st.sampled_from(["yes", "no", "US", "IEC", "three", "A", "[/]", "\x1b[31m", "2026-02-30"]),
)


def typed(parameter: Parameter) -> st.SearchStrategy[str]:
    """Something that might be typed for a parameter."""
    if parameter.kind in KINDS:
        units = st.sampled_from([u.symbol for u in KINDS[parameter.kind].units])
        numbers = st.lists(NUMBERS, max_size=4) if parameter.many else NUMBERS.map(lambda n: [n])
        return st.one_of(st.tuples(numbers, units).map(lambda p: f"{' '.join(p[0])} {p[1]}"), TEXTS)
    if parameter.kind in PLAIN_KINDS:
        return st.one_of(TEXTS, NUMBERS, st.just("0 100; 30 112"), st.just("2026-03-01"))
    return TEXTS


@st.composite
def calculations(draw: st.DrawFn) -> list[str]:
    """A command line of calc."""
    spec = CALCULATIONS[draw(st.sampled_from(sorted(CALCULATIONS)))]
    words = [
        f"{p.name}={draw(typed(p))}"
        for p in spec.parameters
        if not p.optional or draw(st.booleans())
    ]
    return ["calc", spec.name, *words, *draw(st.sampled_from([[], ["--json"]]))]


@settings(deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(calculations())
def test_calc_answers_anything_in_order(words: list[str]) -> None:
    status, out, err = run(*words)
    assert status in (GOOD, UNFINISHED, FAILED, UNREADABLE)
    assert "\x1b" not in out + err
    if status == UNREADABLE:
        assert out == ""
        one_sentence(err)
    elif words[-1] == "--json":
        json.loads(out, parse_constant=lambda word: pytest.fail(word))


FIRST = [i for i in procedure().items.values() if i.phase == 1]


@settings(
    deadline=None, max_examples=60, suppress_health_check=[HealthCheck.function_scoped_fixture]
)
@given(
    st.one_of(
        st.tuples(st.sampled_from([i.key for i in FIRST]), TEXTS | NUMBERS).map("=".join), TEXTS
    )
)
def test_enter_answers_anything_in_order(word: str) -> None:
    if word.startswith("-"):
        return
    for left in Path().glob("*F1.toml*"):
        left.unlink()
    run("new", "F1")
    status, out, err = run("enter", "F1.toml", word)
    assert status in (GOOD, UNFINISHED, FAILED, UNREADABLE)
    assert "\x1b" not in out + err
    if status == UNREADABLE:
        one_sentence(err)
    assert not read_job(Path("F1.toml"), procedure()).grave
