"""A logger's file as the answer of a series."""

from __future__ import annotations

import shutil
from pathlib import Path

import pytest

from tests.cli.command import FAILED, GOOD, UNFINISHED, UNREADABLE, one_sentence, run
from tests.demo.maker import START, Clock, give, scenario, text_for
from wizard.job import Header, Job
from wizard.procedure import procedure
from wizard.store import create_job, read_job


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
