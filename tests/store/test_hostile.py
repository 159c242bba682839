"""Hostile files, names and texts: refused with a sentence, never followed, never shown raw."""

from __future__ import annotations

import os
import socket
from collections.abc import Callable
from contextlib import suppress
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest
import tomli
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from tests.small import START_TIME, new_job
from tests.store.hostile import NASTY, TEXT, endless, unsound
from tests.store.jobs import answered, create, header, long_job, long_procedure
from tests.store.run import run
from tests.store.test_damage import rechain, resealed, tables
from tests.test_record import NESTED, PROCEDURE, busy, sealed
from wizard import actions, store
from wizard.errors import RecordError, StoreError
from wizard.job import Act, Event, Job
from wizard.record import Loaded, dumps, loads
from wizard.text import show

FIVE = long_procedure(5)


def refusal(data: bytes) -> str:
    """The sentence of the refusal."""
    with pytest.raises(RecordError) as caught:
        loads(data, PROCEDURE, "T1.toml")
    return str(caught.value)


@pytest.mark.parametrize(("name", "data"), list(endless()), ids=[n for n, _ in endless()])
def test_what_would_keep_the_parser_busy_never_reaches_it(
    name: str, data: bytes, monkeypatch: pytest.MonkeyPatch
) -> None:
    def reached(_: str) -> dict[str, Any]:
        raise AssertionError("the parser was given it")

    monkeypatch.setattr(tomli, "loads", reached)
    said = refusal(data)
    assert said.isprintable() and len(said) < 400


def test_what_no_job_holds_is_refused_in_one_sentence() -> None:
    refused = 0
    for name, data in unsound():
        said = refusal(data)
        assert said.isprintable() and len(said) < 500, name
        refused += 1
    print(f"{refused} hostile files refused")


def test_hostile_files_stay_within_the_memory_and_spoil_no_other(tmp_path: Path) -> None:
    corpus = [*endless(), *unsound()]
    for n, (_, data) in enumerate(corpus):
        (tmp_path / f"H{n}.toml").write_bytes(data)
    with (tmp_path / "H9999.toml").open("wb") as sparse:
        sparse.truncate(10_000_000_000)
    for n in range(1, 21):
        create(tmp_path, Job.replay(header(f"G{n}"), FIVE, long_job(5).events)).close()
    counted = run("review", tmp_path)
    assert counted["refused"] == len(corpus) + 1 and counted["escaped"] == 0
    assert counted["good"] == 20
    assert counted["peak_after"] < 2 * counted["peak_before"]


# -- texts --------------------------------------------------------------------------------------


def test_hostile_text_in_every_field_comes_back_as_text_and_is_shown_harmless() -> None:
    job = new_job()
    for n, text in enumerate(NASTY, 1):
        data = {"text": text, text[:50]: text}
        job = job.apply(Event(n, Act.NOTED, START_TIME, text[:200], text[:90], data))
    found = loads(dumps(job, 1), PROCEDURE)
    assert found.job.events == job.events and not found.problems
    for event in found.job.events:
        for text in (event.by, event.key, *event.data, *event.data.values()):
            assert show(text).isprintable()


@pytest.mark.parametrize("text", NASTY)
def test_no_message_repeats_hostile_text_raw(text: str) -> None:
    written = "".join(
        c if c.isprintable() and c not in '"\\' else f"\\u{ord(c):04x}"
        for c in text
        if ord(c) < 65536
    )
    for old in ('"motor.voltage"', '"T1"', '"V"', '"PASS"', '"US"', '"us"', '"answered"'):
        for data in (sealed(TEXT.replace(old, f'"{written}"')), TEXT.replace(old, text).encode()):
            try:
                found = loads(data, PROCEDURE, f"{text}.toml")
            except RecordError as problem:
                assert str(problem).isprintable()
            else:
                assert all(str(p).isprintable() for p in found.problems)
                assert found.read_only.isprintable()


def test_what_is_typed_never_brings_hostile_text_into_a_record() -> None:
    job = new_job()
    for n, text in enumerate(NASTY):
        reason = "again" if "machine.label" in job.answers else ""
        by = actions.Hand("Tess", START_TIME)
        job = actions.answer(job, "machine.label", f"Shed {text}", by, reason=f"{reason} {text}")
        job = actions.note(job, "", f"note {n} {text}", by)
    for event in job.events:
        for value in event.data.values():
            assert str(value).isprintable(), event


# -- anything at all -----------------------------------------------------------------------------


def usable(found: Loaded) -> None:
    """Whatever was let in can be asked, judged and written."""
    job = found.job
    assert job.state in ("held", "in progress", "finished")
    assert isinstance(job.next_item(), object)
    for key in job.procedure.items:
        job.finding(key)
        job.refusal(key)
    if not found.read_only:
        again = loads(dumps(job, found.revision, found.extra), job.procedure)
        assert not again.grave and again.job.events == job.events


@given(st.binary(min_size=1, max_size=400))
def test_bytes_are_refused_or_used_but_nothing_else_happens(data: bytes) -> None:
    for text in (data, TEXT[:200].encode() + data, data + TEXT.encode()):
        with pytest.raises(RecordError):
            loads(text, PROCEDURE, "T1.toml")


def _places(given: Any, path: tuple[Any, ...] = ()) -> list[tuple[Any, ...]]:
    inner = given.items() if isinstance(given, dict) else enumerate(given)
    out = [path] if path else []
    for name, value in inner:
        if isinstance(value, dict | list):
            out += _places(value, (*path, name))
        else:
            out.append((*path, name))
    return out


@settings(max_examples=300, suppress_health_check=[HealthCheck.too_slow])
@given(st.data())
def test_any_value_anywhere_is_refused_or_usable(data: st.DataObject) -> None:
    changed = tables()
    for place in data.draw(st.lists(st.sampled_from(_places(changed)), min_size=1, max_size=3)):
        at: Any = changed
        try:
            for name in place[:-1]:
                at = at[name]
            if data.draw(st.booleans()):
                at[place[-1]] = data.draw(NESTED | st.floats() | st.lists(st.floats(), min_size=1))
            else:
                del at[place[-1]]
        except (KeyError, IndexError, TypeError):
            continue
    if not isinstance(changed.get("format"), str) or "seal" not in changed:
        return
    if data.draw(st.booleans()):
        with suppress(KeyError, TypeError, ValueError, AttributeError):
            rechain(changed)
    try:
        found = loads(resealed(changed), PROCEDURE, "T1.toml")
    except RecordError as problem:
        assert str(problem).isprintable()
    else:
        usable(found)


# -- planted files ------------------------------------------------------------------------------


@pytest.fixture
def path(tmp_path: Path) -> Path:
    create(tmp_path, long_job(5)).close()
    return tmp_path / "T1.toml"


def _sparse(at: Path) -> None:
    with at.open("wb") as made:
        made.truncate(10**10)


def _socket(at: Path) -> None:
    with socket.socket(socket.AF_UNIX) as made:
        made.bind(str(at))


@pytest.mark.parametrize(
    ("plant", "said"),
    [
        (lambda at: at.symlink_to("T1.toml"), "a link, which is not followed"),
        (lambda at: at.symlink_to("/dev/zero"), "a link, which is not followed"),
        (lambda at: at.symlink_to(at), "a link, which is not followed"),
        (os.mkfifo, "not a regular file"),
        (_socket, "not a regular file"),
        (lambda at: at.mkdir(), "not a regular file"),
        (_sparse, "larger than 4000000 bytes"),
    ],
)
def test_what_is_not_a_plain_file_is_refused_at_once(
    plant: Callable[[Path], None], said: str, path: Path
) -> None:
    planted = path.with_name("T2.toml")
    plant(planted)
    for read in (
        lambda: store.read_job(planted, FIVE),
        lambda: store.open_job(planted, FIVE, "Tess", "box"),
    ):
        with pytest.raises(RecordError, match=said):
            read()


def test_a_planted_link_is_never_written_through(path: Path) -> None:
    victim = path.with_name("victim")
    victim.write_text("mine")
    for name in ("T1.toml.tmp", ".T1.toml.tmp", "T1.toml.bak"):
        path.with_name(name).unlink(missing_ok=True)
        path.with_name(name).symlink_to(victim)
    with store.open_job(path, FIVE, "Tess", "box") as session:
        session.save(answered(session.job, 1, "244 V"))
    assert victim.read_text() == "mine"
    assert not path.with_name("T1.toml.bak").is_symlink()


def test_a_planted_lock_is_never_written_through(path: Path) -> None:
    victim, lock = path.with_name("victim"), path.with_name(".T1.toml.lock")
    victim.write_text("mine")
    lock.unlink()
    lock.symlink_to(victim)
    with store.open_job(path, FIVE, "Tess", "box") as session:
        assert "lock cannot be opened: it is a link" in session.read_only
    lock.unlink()
    os.link(victim, lock)
    store.open_job(path, FIVE, "Tess", "box").close()
    assert victim.read_text() == "mine"
    lock.unlink()
    os.mkfifo(lock)
    with store.open_job(path, FIVE, "Tess", "box") as session:
        assert "is not a file" in session.read_only


def test_a_record_that_becomes_a_link_while_it_is_open_is_not_followed(path: Path) -> None:
    victim = path.with_name("victim.toml")
    with store.open_job(path, FIVE, "Tess", "box") as session:
        path.rename(victim)
        before = victim.read_bytes()
        path.symlink_to(victim)
        with pytest.raises(StoreError, match="changed by somebody else"):
            session.save(answered(session.job, 1, "244 V"))
    assert victim.read_bytes() == before and path.is_symlink()


@pytest.mark.parametrize(
    "name",
    ["../T1.toml", "a/T1.toml", "..", "-rf.toml", "T1.toml\n", "T1\0.toml", "J" * 300 + ".toml",
     "J1\udcff.toml", "\x1b[31m.toml", "Jé.toml", "Je\u0301.toml", "T1.toml.bak.bak", "CON.toml.x"],
)  # fmt: skip
def test_a_hostile_name_reaches_no_file(name: str, path: Path) -> None:
    before = sorted(path.parents[1].rglob("*"))
    attempts: tuple[Callable[[], object], ...] = (
        lambda: store.read_job(path.parent / "sub" / name, FIVE),
        lambda: store.open_job(path.parent / "sub" / name, FIVE, "Tess", "box"),
        lambda: store.create_job(
            path.parent / name, replace(header(), id=name.removesuffix(".toml")), FIVE, "T", "b"
        ),
    )
    for attempt in attempts:
        with pytest.raises(Exception, match=r"^[^\x00-\x1f\x7f-\x9f\ud800-\udfff]+$") as caught:
            attempt()
        assert type(caught.value).__module__ == "wizard.errors"
    assert sorted(path.parents[1].rglob("*")) == before


def test_a_folder_with_a_hostile_name_is_told_harmlessly(tmp_path: Path) -> None:
    with pytest.raises(StoreError) as caught:
        store.read_job(tmp_path / "\x1b]0;x\x07\udcff" / "T1.toml", FIVE)
    assert str(caught.value).isprintable()
    with pytest.raises(StoreError, match="not a path"):
        store.read_job(tmp_path / "a\0b" / "T1.toml", FIVE)


def test_everything_busy_is_usable() -> None:
    usable(loads(dumps(busy(), 1), PROCEDURE))
