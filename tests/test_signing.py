"""Sign-offs with real ssh-keygen: who signed what, and what a forger runs into."""

from __future__ import annotations

import shutil
import subprocess
from collections.abc import Mapping
from dataclasses import replace
from pathlib import Path

import pytest

from tests.small import START_TIME, hand, new_job
from tests.test_job import full
from wizard import actions
from wizard.errors import Refused
from wizard.job import Job
from wizard.record import head
from wizard.signing import SigningError, check, sign_off, signoffs

pytestmark = pytest.mark.skipif(shutil.which("ssh-keygen") is None, reason="no ssh-keygen")

TECH, LEAD = "tess@example.invalid", "lea@example.invalid"


def make_key(folder: Path, name: str, passphrase: str = "") -> Path:
    path = folder / name
    subprocess.run(
        ["ssh-keygen", "-q", "-t", "ed25519", "-N", passphrase, "-f", str(path)], check=True
    )
    return path


@pytest.fixture
def keys(tmp_path: Path) -> Mapping[str, Path]:
    made = {"tech": make_key(tmp_path, "tech"), "lead": make_key(tmp_path, "lead")}
    public = {n: p.with_suffix(".pub").read_text().strip() for n, p in made.items()}
    (tmp_path / "allowed").write_text(
        f'{TECH} namespaces="wizard-technician-v1" {public["tech"]}\n'
        f'{LEAD} namespaces="wizard-lead-v1" {public["lead"]}\n'
    )
    return {**made, "allowed": tmp_path / "allowed", "folder": tmp_path}


def chains(job: Job) -> dict[int, str]:
    """The chain after each event."""
    out = {}
    for n in range(len(job.events) + 1):
        seq, chain = head(replace(job, events=job.events[:n]))
        out[seq] = chain
    return out


def verdicts(job: Job, keys: Mapping[str, Path], revoked: Path | None = None) -> list[bool | None]:
    got = check(job, chains(job), keys["allowed"], revoked, START_TIME)
    return [c.good for c in got]


def test_technician_and_lead_sign_and_are_believed(keys: Mapping[str, Path]) -> None:
    job = sign_off(full(), "technician", "complete", TECH, hand(60), str(keys["tech"]))
    job = sign_off(job, "lead", "accepted", LEAD, hand(90), str(keys["lead"]))
    assert verdicts(job, keys) == [True, True]


def test_a_technician_cannot_sign_as_lead(keys: Mapping[str, Path]) -> None:
    job = sign_off(full(), "lead", "accepted", TECH, hand(60), str(keys["tech"]))
    assert verdicts(job, keys) == [False]


def test_a_signature_of_another_job_or_name_is_not_good(keys: Mapping[str, Path]) -> None:
    job = sign_off(full(), "technician", "complete", TECH, hand(60), str(keys["tech"]))
    other = Job.replay(replace(job.header, uuid="1" * 32), job.procedure, job.events)
    assert verdicts(other, keys) == [False]
    signed = signoffs(job)[0]
    swapped = replace(signed, data={**signed.data, "principal": LEAD})
    assert verdicts(replace(job, events=(*job.events[:-1], swapped)), keys) == [False]


def test_a_changed_history_is_not_the_one_signed(keys: Mapping[str, Path]) -> None:
    job = sign_off(full(), "technician", "complete", TECH, hand(60), str(keys["tech"]))
    first = replace(job.events[1], data={**job.events[1].data, "raw": "231"})
    forged = replace(job, events=(job.events[0], first, *job.events[2:]))
    assert verdicts(forged, keys) == [False]


def test_a_revoked_key_is_not_good(keys: Mapping[str, Path]) -> None:
    job = sign_off(full(), "technician", "complete", TECH, hand(60), str(keys["tech"]))
    revoked = keys["folder"] / "revoked"
    shutil.copy(keys["tech"].with_suffix(".pub"), revoked)
    assert verdicts(job, keys, revoked) == [False]


def test_without_keys_the_record_says_unsigned(keys: Mapping[str, Path]) -> None:
    job = sign_off(full(), "technician", "complete", "tess", hand(60))
    (got,) = check(job, chains(job), keys["allowed"], None, START_TIME)
    assert got.good is None and "unsigned" in got.text


def test_a_locked_or_missing_key_is_one_sentence(keys: Mapping[str, Path]) -> None:
    locked = make_key(keys["folder"], "locked", "secret words")
    for path in (locked, keys["folder"] / "absent"):
        with pytest.raises(SigningError, match="was not signed") as caught:
            sign_off(full(), "technician", "complete", TECH, hand(60), str(path))
        assert "\n" not in str(caught.value)


def test_a_held_or_unfinished_job_cannot_be_accepted() -> None:
    held = actions.answer(full(), "lock.on", "no", hand(30), reason="gone")
    with pytest.raises(Refused, match="under a hold"):
        sign_off(held, "lead", "accepted", LEAD, hand(40))
    with pytest.raises(Refused, match="in progress"):
        sign_off(new_job(), "technician", "complete", TECH, hand(40))
    assert sign_off(held, "lead", "returned", LEAD, hand(41)).state == "held"
