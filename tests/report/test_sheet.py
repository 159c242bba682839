"""The handover sheet: complete, honest about what is wrong, and escaped in every format."""

from __future__ import annotations

import io
import re
import shlex
import shutil
import subprocess
import xml.etree.ElementTree as ET
from collections.abc import Iterator
from dataclasses import replace
from datetime import UTC, datetime
from html.parser import HTMLParser
from pathlib import Path

import icalendar
import pytest

from tests.demo.fleet import finished
from tests.store.hostile import NASTY
from tests.test_signing import make_key
from wizard import actions, remarks, service
from wizard.actions import Hand
from wizard.cli import main
from wizard.finding import Verdict
from wizard.job import Job
from wizard.pictures.ladder import Rung
from wizard.record import dumps
from wizard.report.blocks import (
    Bullets,
    Code,
    Facts,
    Ladder,
    Lines,
    Para,
    Plot,
    Section,
    Sheet,
    Table,
)
from wizard.report.html import html
from wizard.report.md import escaped, markdown
from wizard.report.proof import Evidence
from wizard.report.sheet import sheet
from wizard.report.svg import plot_svg
from wizard.report.txt import WIDTH, text
from wizard.signing import Checked, sign_off

MADE = datetime(2026, 4, 1, 12, 0, tzinfo=UTC)
EVIDENCE = Evidence("BASE.toml", "a" * 64, 7, 500, "b" * 64, (), ())


@pytest.fixture(autouse=True)
def home(tmp_path_factory: pytest.TempPathFactory, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A home of its own."""
    folder = tmp_path_factory.mktemp("home")
    for name in ("STATE", "CACHE", "CONFIG"):
        monkeypatch.setenv(f"XDG_{name}_HOME", str(folder / name.lower()))
    return folder


def of(job: Job, **more: str) -> Sheet:
    return sheet(job, EVIDENCE, MADE, **more)


def section(made: Sheet, title: str) -> str:
    """All text of a section."""
    (found,) = (s for s in made.sections if s.title == title)
    return text(replace(made, warnings=(), sections=(found,)))


# -- what is in it --------------------------------------------------------------------


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


# -- what must be seen first -------------------------------------------------------------


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


# -- hostile text ----------------------------------------------------------------------


def nasty() -> Sheet:
    """Every block with every nasty text in every place."""
    tags = ("<script>alert(1)</script>", '"onload="x', "| a | b |", "```", "# h")
    texts = (*NASTY, *tags)
    everything = " ".join(texts)
    blocks = (
        Facts(tuple((t, t) for t in texts)),
        Table((everything, "b"), tuple((t, t) for t in texts)),
        Table(("a", "b"), ((everything,),)),
        Para(everything, strong=True),
        Bullets(texts),
        Ladder(tuple(Rung(t, float(n + 1), t, n) for n, t in enumerate(texts))),
        Plot(everything, ((0.0, 1.0), (1.0, 2.0)), everything),
        Lines(texts),
        Code(texts),
    )
    sections = (Section(everything, blocks),)
    return Sheet(everything, (everything,), (everything,), sections, "now")


class Tags(HTMLParser):
    """Every tag and attribute of a page."""

    def __init__(self, page: str) -> None:
        super().__init__()
        self.found: list[tuple[str, dict[str, str | None]]] = []
        self.feed(page)

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.found.append((tag, dict(attrs)))


def test_a_page_holds_no_script_no_link_and_fetches_nothing() -> None:
    page = html(nasty())
    tags = Tags(page)
    allowed = {"html", "head", "meta", "title", "style", "body", "header", "main", "section"}
    allowed |= {"h1", "h2", "p", "strong", "div", "table", "colgroup", "col", "thead", "tbody"}
    allowed |= {"tr", "th", "td", "ul", "li", "figure", "figcaption", "pre", "dl", "dt", "dd"}
    allowed |= {"svg", "rect", "line", "text", "polyline", "circle"}
    assert {tag for tag, _ in tags.found} <= allowed
    for _, attributes in tags.found:
        assert not [n for n in attributes if n.startswith("on") or n in ("src", "href")]
    assert "default-src 'none'" in page
    style = page[page.index("<style>") : page.index("</style>")]
    assert "url(" not in style and "@import" not in style


@pytest.mark.parametrize("write", [html, markdown, text])
def test_no_control_or_invisible_character_gets_out(write: object) -> None:
    assert callable(write)
    for character in write(nasty()):
        assert character == "\n" or character.isprintable()
        assert character not in "\u202e\u200b\u2060\ufeff"


def test_markdown_shows_text_as_text() -> None:
    made = markdown(nasty())
    outside = re.sub(r"^(`{3,})text\n.*?^\1$", "", made, flags=re.DOTALL | re.MULTILINE)
    assert "<script>" not in outside and "\n# h" not in outside
    rows = [line for line in outside.splitlines() if line.startswith("|")]
    assert {len(re.findall(r"(?<!\\)\|", row)) for row in rows} == {3}


def test_markdown_escapes_nothing_that_means_nothing() -> None:
    made = markdown(of(finished("five_hp")))
    assert "\\-" not in made and "\\(" not in made and "\\=" not in made
    assert "| -20 °F |" in made and "| 2026-03-11 |" in made


@pytest.mark.parametrize(
    "said",
    [
        "# h",
        "- x",
        "+ x",
        "> q",
        "1. x",
        "===",
        "--",
        "*a*",
        "_a_",
        "`a`",
        "[a](b)",
        "![a](b)",
        "<b>",
        "&lt;",
        "~~a~~",
        "$a$",
        "a\\",
        "  # h",
        "h #",
    ],
)
def test_markdown_of_hostile_text_reads_as_that_text(said: str) -> None:
    from markdown_it import MarkdownIt

    parser = MarkdownIt("gfm-like", {"linkify": False})
    for before in ("", "# ", "- "):
        (inline,) = (t for t in parser.parse(before + escaped(said)) if t.type == "inline")
        kinds = {"paragraph_open", "inline", "paragraph_close", "heading_open", "heading_close"}
        kinds |= {"bullet_list_open", "list_item_open", "list_item_close", "bullet_list_close"}
        tokens = parser.parse(before + escaped(said))
        assert {t.type for t in tokens} <= kinds
        assert sum(t.type.endswith("_open") for t in tokens) == (3 if before == "- " else 1)
        assert [t for t in inline.children or () if t.type not in ("text", "text_special")] == []
        assert "".join(t.content for t in inline.children or ()) == said.strip()


def test_plain_text_is_no_wider_than_the_page() -> None:
    commands = [f"    {line}" for line in ("wizard", "ssh-keygen")]
    rows = text(of(finished("fifteen_hp"))).splitlines()
    assert max(len(row) for row in rows if not row.startswith(tuple(commands))) <= WIDTH


# -- drawings ---------------------------------------------------------------------------


def drawings(page: str) -> Iterator[ET.Element]:
    for found in re.findall(r"<svg.*?</svg>", page, re.DOTALL):
        yield ET.fromstring(found)


def test_every_drawing_is_sound_says_what_it_shows_and_stays_inside() -> None:
    pages = list(drawings(html(of(finished("fifteen_hp")))))
    assert len(pages) >= 3
    for picture in pages:
        _, _, width, height = map(float, picture.attrib["viewBox"].split())
        assert picture.attrib["aria-label"]
        for rect in picture.iter("rect"):
            assert float(rect.attrib["x"]) + float(rect.attrib["width"]) <= width
        for circle in picture.iter("circle"):
            assert 0 <= float(circle.attrib["cx"]) <= width
            assert 0 <= float(circle.attrib["cy"]) <= height


def test_bars_are_as_long_as_the_pressures_are_high() -> None:
    page = html(of(finished("five_hp")))
    ladder = next(d for d in drawings(page) if d.attrib["aria-label"].startswith("Pressures"))
    widths = [float(r.attrib["width"]) for r in ladder.iter("rect")]
    pressures = [float(m) for m in re.findall(r"([\d.]+) psig", ladder.attrib["aria-label"])]
    scale = widths[0] / pressures[0]
    assert all(abs(w - scale * p) < 0.1 for w, p in zip(widths, pressures, strict=True))


def test_every_reading_of_a_run_is_a_point_at_its_time() -> None:
    points = ((0.0, 2.0), (30.0, 20.0), (60.0, 36.0), (120.0, 68.0))
    picture = ET.fromstring(plot_svg(Plot("Run", points, "psig")))
    x = [float(c.attrib["cx"]) for c in picture.iter("circle")]
    assert len(x) == 4
    assert abs((x[1] - x[0]) / (x[3] - x[0]) - 0.25) < 0.001
    assert abs((x[2] - x[0]) / (x[3] - x[0]) - 0.5) < 0.001


# -- the command ------------------------------------------------------------------------


@pytest.fixture
def record(tmp_path: Path) -> Path:
    path = tmp_path / "BASE.toml"
    path.write_bytes(dumps(finished("five_hp"), 1))
    return path


@pytest.mark.parametrize("form", ["md", "html", "txt"])
def test_the_sheet_is_written_where_it_is_asked_for(record: Path, form: str) -> None:
    out = record.with_name(f"sheet.{form}")
    assert main(["report", str(record), "-o", str(out)]) == 0
    written = out.read_text("utf-8")
    assert "Handover sheet" in written or "HANDOVER SHEET" in written
    from hashlib import sha256

    assert sha256(record.read_bytes()).hexdigest() in written.replace("\\", "")


def test_the_sheet_is_printed_where_no_file_is_named(
    record: Path, capfdbinary: pytest.CaptureFixture[bytes]
) -> None:
    assert main(["report", str(record), "--format", "txt"]) == 0
    assert capfdbinary.readouterr().out.startswith(b"HANDOVER SHEET")


def test_on_a_terminal_the_sheet_is_text_to_read(
    record: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    shown = io.StringIO()
    monkeypatch.setattr(shown, "isatty", lambda: True)
    monkeypatch.setattr("sys.stdout", shown)
    assert main(["report", str(record)]) == 0
    assert shown.getvalue().startswith("HANDOVER SHEET")


def test_in_a_pipe_the_sheet_is_markdown(
    record: Path, capfdbinary: pytest.CaptureFixture[bytes]
) -> None:
    assert main(["report", str(record)]) == 0
    assert capfdbinary.readouterr().out.startswith(b"# Handover sheet")


def test_a_calendar_takes_the_plan(record: Path) -> None:
    out = record.with_name("plan.ics")
    assert main(["report", str(record), "-o", str(out)]) == 0
    calendar = icalendar.Calendar.from_ical(out.read_bytes())
    tasks = service.due(finished("five_hp"), rounds=True)
    assert len(list(calendar.walk("VEVENT"))) == len(tasks) > 10


def test_a_report_never_takes_the_place_of_a_record(
    record: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    before = record.read_bytes()
    assert main(["report", str(record), "--format", "md", "-o", str(record)]) == 3
    assert "not that of a job file" in capsys.readouterr().err
    assert main(["report", str(record), "-o", str(record.with_name("sheet.doc"))]) == 3
    assert "ends in .md, .html" in capsys.readouterr().err
    assert main(["report", str(record), "-o", "/nowhere/at/all.md"]) == 3
    assert record.read_bytes() == before


def test_a_link_at_the_place_of_a_report_is_replaced_and_not_followed(record: Path) -> None:
    victim = record.with_name("victim")
    victim.write_text("precious")
    out = record.with_name("sheet.md")
    out.symlink_to(victim)
    assert main(["report", str(record), "-o", str(out)]) == 0
    assert victim.read_text() == "precious" and not out.is_symlink()


def test_a_tampered_record_is_reported_with_its_warning(record: Path) -> None:
    from tests.demo.fleet import edited

    record.write_bytes(edited(finished("five_hp")))
    out = record.with_name("sheet.md")
    assert main(["report", str(record), "-o", str(out)]) == 2
    assert "DO NOT RELY ON THIS RECORD" in out.read_text()


def test_a_job_that_was_sent_back_says_so_and_that_it_was_replied_to() -> None:
    job, hand = finished("five_hp"), Hand("Lea", MADE)
    job = remarks.remark(job, "", "Photos are missing.", hand)
    job = sign_off(job, "lead", "returned", "Lea", hand)
    seen = replace(EVIDENCE, checked=(Checked(job.events[-1], None, ""),))

    def brief(job: Job) -> str:
        made = section(sheet(job, seen, MADE), "The machine in brief")
        return " ".join(made.split())

    told = "The lead Lea sent it back on 2026-04-01"
    assert f"{told}." in brief(job)
    job = remarks.reply(job, "", "Sent by mail.", hand)
    assert f"{told}, and it was replied to on 2026-04-01;" in brief(job)


@pytest.mark.skipif(shutil.which("ssh-keygen") is None, reason="no ssh-keygen")
def test_the_commands_of_the_sheet_verify_a_signature(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    key = make_key(tmp_path, "lea")
    job = sign_off(finished("five_hp"), "lead", "accepted", "lea o", Hand("Lea", MADE), str(key))
    (tmp_path / "BASE.toml").write_bytes(dumps(job, 2))
    public = key.with_suffix(".pub").read_text()
    (tmp_path / "allowed_signers").write_text(f'"lea o" {public}')
    seen = replace(EVIDENCE, checked=(Checked(job.events[-1], None, ""),))
    (how,) = (s for s in sheet(job, seen, MADE).sections if s.title == "How to verify it")
    *_, commands = (block for block in how.blocks if isinstance(block, Code))
    *shows, verify = commands.lines
    for command in shows:
        words, _, file = command.partition(" > ")
        name, *rest = shlex.split(words)
        assert (
            name == "wizard"
            and main([str(tmp_path / w) if w == "BASE.toml" else w for w in rest]) == 0
        )
        (tmp_path / file).write_text(capsys.readouterr().out)
    done = subprocess.run(verify, shell=True, cwd=tmp_path, capture_output=True, text=True)
    assert done.returncode == 0 and 'Good "wizard-lead-v1" signature' in done.stdout
