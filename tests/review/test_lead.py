"""What a lead writes: remarks, sending back, accepting, with the SSH keys that people have."""

from __future__ import annotations

import re
import shutil
from pathlib import Path

import pytest

from tests.test_signing import LEAD, TECH, make_key
from wizard import actions, remarks
from wizard.cli import main
from wizard.errors import InputError, Refused, StoreError
from wizard.job import Header, Job
from wizard.procedure import procedure
from wizard.record import dumps
from wizard.review.lead import Lead
from wizard.review.look import Lens, Look, look
from wizard.review.table import state_text
from wizard.review.trust import Trust
from wizard.signing import sign_off
from wizard.store import now, open_job, read_job

needs_keys = pytest.mark.skipif(shutil.which("ssh-keygen") is None, reason="no ssh-keygen")


@pytest.fixture
def keys(tmp_path: Path, home: Path) -> dict[str, str]:
    """Keys of a technician and a lead, and the lead's list that allows them."""
    made = {"tech": make_key(tmp_path, "tech"), "lead": make_key(tmp_path, "lead")}
    public = {n: p.with_suffix(".pub").read_text().strip() for n, p in made.items()}
    own = home / "config" / "wizard"
    own.mkdir(parents=True)
    (own / "allowed_signers").write_text(
        f'{TECH} namespaces="wizard-technician-v1" {public["tech"]}\n'
        f'{LEAD} namespaces="wizard-lead-v1" {public["lead"]}\n'
    )
    return {name: str(path) for name, path in made.items()}


def lea(**more: str) -> Lead:
    return Lead("Lea", "desk", procedure(), **more)


def looked(path: Path) -> Look:
    return look(path.read_bytes(), path.name, procedure(), Lens(now(), Trust.own()))


def test_a_job_is_sent_back_answered_and_accepted(folder: Path) -> None:
    path = folder / "F001.toml"
    with pytest.raises(Refused, match="Say with a remark"):
        lea().send_back(path)
    lea().remark(path, "running.pressure", "Photo of the gauge, please")
    lea().send_back(path)
    assert looked(path).row.decision == "returned"
    with pytest.raises(Refused, match="cannot be signed off yet: a remark has no reply"):
        lea().accept(path)
    lea().reply(path, "running.pressure", "Sent by mail")
    assert looked(path).row.decision == "answered"
    assert state_text(looked(path).row) == "finished, sent back, replied to"
    lea().accept(path)
    row = looked(path).row
    assert row.decision == "accepted" and row.state == "finished" and row.error == ""


def test_a_reply_needs_a_remark_and_a_remark_an_item(folder: Path) -> None:
    path = folder / "F001.toml"
    with pytest.raises(Refused, match="no open remark"):
        lea().reply(path, "running.pressure", "For what it is worth")
    with pytest.raises(InputError, match=r"running\.pressure"):
        lea().remark(path, "running.pressur", "Typed wrong")
    with pytest.raises(Refused, match="does not ask “Line voltage, compressor off"):
        lea().remark(path, "supply.voltage", "Of three phases, and this machine has one")
    assert not read_job(path, procedure()).job.open_remarks()


def test_a_remark_waits_at_an_item_that_may_still_be_asked() -> None:
    hand = actions.Hand("Lea", now())
    new = Job.new(Header("J1042", "0" * 32, now()), procedure())
    assert not new.applies("supply.voltage") and not new.applies("supply.voltage_single")
    job = remarks.remark(new, "supply.voltage", "Measured under load?", hand)
    assert [r.key for r in job.open_remarks()] == ["supply.voltage"]
    job = actions.answer(job, "motor.phases", "three", hand)
    remarks.remark(job, "supply.voltage", "And with the compressor off?", hand)
    with pytest.raises(Refused, match="With the answers given this job does not ask"):
        remarks.remark(job, "supply.voltage_single", "Of one phase?", hand)


def test_a_job_under_a_hold_is_not_accepted(folder: Path, five: tuple[Job, ...]) -> None:
    job, last = five[0], five[0].events[-1]
    hand = actions.Hand("Tess", last.at)
    held = actions.answer(job, "guard.fitted", "no", hand, reason="it was off again")
    path = folder / "F001.toml"
    path.write_bytes(dumps(held, 2))
    with pytest.raises(Refused, match="under a hold"):
        lea().accept(path)
    assert lea().send_back(path, "Fit the guard.").open_remarks()


def test_what_changes_after_acceptance_is_seen(folder: Path) -> None:
    path = folder / "F001.toml"
    lea().accept(path)
    with open_job(path, procedure(), "Tess", "box") as session:
        hand = actions.Hand("Tess", now())
        session.save(actions.note(session.job, "", "changed my mind", hand))
    assert looked(path).row.decision == "changed"


def test_nothing_is_accepted_whose_history_was_put_back(
    folder: Path, five: tuple[Job, ...]
) -> None:
    path = folder / "F001.toml"
    before = path.read_bytes()
    lea().accept(path)
    path.write_bytes(before)
    with pytest.raises(Refused, match="An earlier revision was put back"):
        lea().accept(path)


def test_a_job_that_somebody_has_open_is_left_alone(folder: Path) -> None:
    path = folder / "F001.toml"
    with (
        open_job(path, procedure(), "Tess", "box"),
        pytest.raises(StoreError, match="Tess on box"),
    ):
        lea().remark(path, "", "Are you still there?")


@needs_keys
def test_signatures_are_verified_by_the_lists_of_the_lead(
    folder: Path, keys: dict[str, str]
) -> None:
    path = folder / "F001.toml"
    Lead("Tess", "box", procedure(), TECH, keys["tech"]).sign(path, "technician", "complete")
    lea(principal=LEAD, key=keys["lead"]).accept(path)
    found = looked(path)
    assert [good for *_, good, _ in found.row.signed] == [True, True]
    assert found.row.decision == "accepted"


def forged(path: Path, key: str, name: str = TECH) -> None:
    """Accept as a lead with a key of somebody else, where no list is at hand to refuse it."""
    with open_job(path, procedure(), "Tess", "box") as session:
        hand = actions.Hand("Tess", now())
        signed = sign_off(session.job, "lead", "accepted", name, hand, key, session.extra)
        session.save(signed)


@needs_keys
def test_a_technician_who_signs_as_lead_accepts_nothing(folder: Path, keys: dict[str, str]) -> None:
    path = folder / "F001.toml"
    forged(path, keys["tech"])
    row = looked(path).row
    assert row.decision == "in doubt" and "not good" in row.error
    with pytest.raises(Refused, match="not good"):
        lea().accept(path)


@needs_keys
def test_a_good_signature_puts_right_one_of_the_same_role_that_is_not(
    folder: Path, keys: dict[str, str]
) -> None:
    path = folder / "F001.toml"
    forged(path, keys["lead"], "Lea")
    lea(principal=LEAD, key=keys["lead"]).accept(path)
    found = looked(path)
    assert found.row.decision == "accepted" and found.row.error == ""
    assert [good for *_, good, _ in found.row.signed] == [False, True]
    assert f"{LEAD} signed anew" in found.checked[0].text
    forged(path, keys["tech"])
    assert looked(path).row.decision == "in doubt", "the newest of a role decides"


@needs_keys
def test_a_lead_does_not_put_right_what_a_technician_signed(
    folder: Path, keys: dict[str, str]
) -> None:
    path = folder / "F001.toml"
    with open_job(path, procedure(), "Tess", "box") as session:
        hand = actions.Hand("Tess", now())
        key, extra = keys["lead"], session.extra
        session.save(sign_off(session.job, "technician", "complete", TECH, hand, key, extra))
    with pytest.raises(Refused, match="signature of technician"):
        lea(principal=LEAD, key=keys["lead"]).accept(path)


@needs_keys
@pytest.mark.parametrize(
    ("name", "key", "said"),
    [
        ("Lea Lead", "lead", f"in the role of lead as {LEAD}, not as Lea Lead"),
        (TECH, "tech", "does not have this key in the role of lead"),
        (LEAD, "tech", "does not have this key in the role of lead"),
    ],
)
def test_a_signature_that_the_list_does_not_bear_out_is_not_saved(
    folder: Path, keys: dict[str, str], name: str, key: str, said: str
) -> None:
    path = folder / "F001.toml"
    before = path.read_bytes()
    with pytest.raises(Refused, match=re.escape(said)):
        lea(principal=name, key=keys[key]).accept(path)
    assert path.read_bytes() == before


@needs_keys
def test_a_revoked_key_signs_nothing_more(folder: Path, keys: dict[str, str], home: Path) -> None:
    shutil.copy(f"{keys['lead']}.pub", home / "config" / "wizard" / "revoked_keys")
    with pytest.raises(Refused, match="expired or is revoked"):
        lea(principal=LEAD, key=keys["lead"]).accept(folder / "F001.toml")


@needs_keys
def test_without_a_name_the_one_of_the_list_signs(folder: Path, keys: dict[str, str]) -> None:
    job = lea(key=keys["lead"]).accept(folder / "F001.toml")
    assert job.events[-1].data["principal"] == LEAD


@needs_keys
def test_a_revoked_key_spoils_what_it_signed(
    folder: Path, keys: dict[str, str], home: Path
) -> None:
    path = folder / "F001.toml"
    lea(principal=LEAD, key=keys["lead"]).accept(path)
    shutil.copy(f"{keys['lead']}.pub", home / "config" / "wizard" / "revoked_keys")
    assert looked(path).row.decision == "in doubt"


@needs_keys
def test_a_stripped_sign_off_is_caught_by_the_memory(folder: Path, keys: dict[str, str]) -> None:
    path = folder / "F001.toml"
    before = path.read_bytes()
    lea(principal=LEAD, key=keys["lead"]).accept(path)
    path.write_bytes(before)
    assert main(["review", str(folder), "--json"]) == 2


# -- the commands ---------------------------------------------------------------------


@needs_keys
def test_sign_from_the_command_line(
    folder: Path, keys: dict[str, str], capsys: pytest.CaptureFixture[str]
) -> None:
    path = str(folder / "F002.toml")
    words = ["sign", path, "--role", "technician", "--key", keys["tech"], "--as", TECH]
    assert main(words) == 0
    assert f"technician {TECH}: complete" in capsys.readouterr().out
    assert looked(Path(path)).checked[0].good is True


def test_sign_without_a_key_says_what_it_is_worth(
    folder: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    path = str(folder / "F002.toml")
    assert main(["sign", path, "--role", "technician", "--by", "Tess"]) == 0
    assert "Unsigned" in capsys.readouterr().err
    assert "unsigned" in looked(Path(path)).checked[0].text


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (["--role", "boss"], "technician, electrician, lead"),
        (["--role", "lead"], "accepted or returned"),
        (["--role", "technician", "--decision", "accepted"], "accepted complete"),
        (["--role", "technician", "--key", "/nowhere/key"], "was not signed"),
    ],
)
def test_a_wrong_sign_off_is_one_sentence_and_changes_nothing(
    folder: Path, capsys: pytest.CaptureFixture[str], words: list[str], said: str
) -> None:
    path = folder / "F002.toml"
    before = path.read_bytes()
    assert main(["sign", str(path), *words]) == 3
    assert said in capsys.readouterr().err
    assert path.read_bytes() == before


def test_remarks_and_replies_from_the_command_line(
    folder: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    path = str(folder / "F002.toml")
    assert main(["remark", path, "relief.set=Read it again", "job=Photos missing"]) == 0
    assert capsys.readouterr().out.count("OPEN") == 2
    replies = ["--reply", "job=Sent", "--reply", "relief.set=150 it is"]
    assert main(["remark", path, *replies, "--by", "T"]) == 0
    assert "OPEN" not in capsys.readouterr().out
    told = [e.data["text"] for e in read_job(Path(path), procedure()).job.events[-4:]]
    assert told == ["Read it again", "Photos missing", "Sent", "150 it is"]
