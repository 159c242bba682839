"""Sign-offs with the SSH keys that people already have, through ssh-keygen.

Invariant: what is signed is a short statement about a point in the history, never the file; each
role signs in a namespace of its own; keys are never read here; a failing ssh-keygen is a
sentence, never a hang.
"""

from __future__ import annotations

import shutil
import subprocess
import tempfile
from collections.abc import Mapping
from dataclasses import dataclass, replace
from datetime import datetime
from pathlib import Path
from typing import Any

from wizard.actions import Hand, text_of
from wizard.errors import InputError, Refused, WizardError
from wizard.job import Act, Event, Job
from wizard.record import Extra, head
from wizard.record.extra import NOTHING
from wizard.text import show

ROLES = ("technician", "electrician", "lead")
DECISIONS = {
    "technician": ("complete",),
    "electrician": ("complete",),
    "lead": ("accepted", "returned"),
}
TIMEOUT = 20


class SigningError(WizardError):
    """A signature could not be made."""


@dataclass(frozen=True, slots=True)
class Checked:
    """A sign-off looked at: `good` is None where there is no signature to check.

    `foreign` is a sign-off of another history, which nothing mends; `renewed` a signature that is
    not good and that the same role has given anew.
    """

    event: Event
    good: bool | None
    text: str
    foreign: bool = False
    renewed: bool = False

    @property
    def bad(self) -> bool:
        """Whether it keeps the record from being relied on."""
        return self.good is False and not self.renewed


def namespace(role: str) -> str:
    """The namespace that keeps a technician's signature from passing as a lead's."""
    return f"wizard-{role}-v1"


def statement(uuid: str, data: Mapping[str, Any]) -> bytes:
    """The bytes a sign-off signs; no value can hold a line break."""
    parts = (
        "wizard-signoff-v1",
        data["role"],
        data["principal"],
        uuid,
        str(data["covers"]),
        data["covers_chain"],
        data["decision"],
        data["signed_at"].isoformat(),
    )
    if any("\n" in part for part in parts):
        raise InputError("sign-off", "a line break", "values on one line")
    return ("\n".join(parts) + "\n").encode()


def sign_off(
    job: Job,
    role: str,
    decision: str,
    principal: str,
    hand: Hand,
    key: str = "",
    extra: Extra = NOTHING,
) -> Job:
    """The job with a sign-off of everything up to now; `key` is a public or private key file.

    Without a key the sign-off is recorded as unsigned. `extra` is what the record holds beyond
    what this version knows, which the chain covers too.
    """
    principal = text_of("principal", principal)
    if role not in ROLES:
        raise InputError("role", show(role) or "nothing", ", ".join(ROLES))
    if decision not in DECISIONS[role]:
        raise InputError("decision", show(decision) or "nothing", ", ".join(DECISIONS[role]))
    if why_not := refusal(job, role, decision):
        raise Refused(why_not)
    covers, chain = head(job, extra)
    data: dict[str, Any] = {
        "role": role,
        "principal": principal,
        "decision": decision,
        "covers": covers,
        "covers_chain": chain,
        "signed_at": hand.at,
    }
    if key:
        data["signature"] = _sign(statement(job.header.uuid, data), key, role)
    return job.apply(Event(job.next_seq, Act.SIGNED, hand.at, hand.by, "", data))


def refusal(job: Job, role: str, decision: str) -> str:
    """Why the job cannot be signed off so now; empty where it can."""
    if decision == "returned":
        return ""
    if job.holds():
        hold = job.holds()[0]
        ask = job.procedure.items[hold.key].ask
        return (
            f"A job under a hold cannot be signed off: phase {hold.phase}, “{ask}”: "
            f"{hold.finding.text}"
        )
    if role != "electrician" and job.state != "finished":
        left = job.open_items() or job.failures() or job.wants_note()
        other = "a remark has no reply" if job.open_remarks() else "a visit is not closed"
        why = f", first of all “{left[0].ask}”" if left else f": {other}"
        return f"The job is {job.state} and cannot be signed off yet{why}."
    if decision == "accepted" and job.header.practice_run:
        return "This is a practice run and not a machine; it cannot be accepted."
    return ""


def _sign(message: bytes, key: str, role: str) -> str:
    done = _run(["-Y", "sign", "-q", "-f", key, "-n", namespace(role)], message)
    if done.returncode:
        raise SigningError("The record was not signed: " + _reason(done.stderr))
    return done.stdout.decode("ascii")


def signoffs(job: Job) -> tuple[Event, ...]:
    """The sign-offs of a job in order."""
    return tuple(e for e in job.events if e.act is Act.SIGNED)


def check(
    job: Job, chains: Mapping[int, str], allowed: Path | None, revoked: Path | None, at: datetime
) -> tuple[Checked, ...]:
    """Each sign-off against the history and the lead's list of allowed keys.

    `chains` gives the chain after each event as the record's own events make it; `at` is the
    lead's time of acceptance, because the time in the sign-off is only the signer's claim. The
    newest good signature of a role stands for those of that role before it that are not good.
    """
    found = [check_one(job, event, chains, allowed, revoked, at) for event in signoffs(job)]
    return tuple(_renewed(one, found[n:]) for n, one in enumerate(found, 1))


def _renewed(one: Checked, later: list[Checked]) -> Checked:
    """A signature that is not good, with word of the good one that came after it."""
    if one.good is not False or one.foreign:
        return one
    role = one.event.data["role"]
    anew = next((c for c in reversed(later) if c.good and c.event.data["role"] == role), None)
    if anew is None:
        return one
    by, day = show(anew.event.data["principal"]), f"{anew.event.at:%Y-%m-%d}"
    said = f"{one.text} It does not count any more: {by} signed anew on {day}."
    return replace(one, text=said, renewed=True)


def check_one(
    job: Job,
    event: Event,
    chains: Mapping[int, str],
    allowed: Path | None,
    revoked: Path | None,
    at: datetime,
) -> Checked:
    """One sign-off of the job, as `check` looks at each."""
    data = event.data
    who = f"{data['role']} {show(data['principal'])}"
    if chains.get(data["covers"]) != data["covers_chain"]:
        return Checked(event, False, f"The sign-off of {who} is of another history.", foreign=True)
    if "signature" not in data:
        return Checked(event, None, f"{who}: unsigned, evidence of accidents only.")
    if allowed is None or not allowed.is_file():
        return Checked(event, None, f"{who}: signed, but there is no list of allowed keys here.")
    message = statement(job.header.uuid, data)
    with tempfile.NamedTemporaryFile("w", encoding="ascii", errors="replace") as signature:
        signature.write(str(data["signature"]))
        signature.flush()
        words = [
            "-Y",
            "verify",
            "-f",
            str(allowed),
            "-I",
            str(data["principal"]),
            "-n",
            namespace(data["role"]),
            "-s",
            signature.name,
            f"-Overify-time={at:%Y%m%d%H%M%S}",
        ]
        if revoked is not None and revoked.is_file():
            words += ["-r", str(revoked)]
        done = _run(words, message)
    if done.returncode:
        return Checked(
            event,
            False,
            f"The signature of {who} is not good: bad signature, signer "
            "not allowed in this role, expired or revoked.",
        )
    return Checked(event, True, f"Signed by {who}.")


def _run(words: list[str], message: bytes) -> subprocess.CompletedProcess[bytes]:
    program = shutil.which("ssh-keygen")
    if program is None:
        raise SigningError("ssh-keygen is not installed here; sign off without a key instead.")
    try:
        return subprocess.run(
            [program, *words],
            input=message,
            capture_output=True,
            timeout=TIMEOUT,
            start_new_session=True,
        )
    except subprocess.TimeoutExpired:
        raise SigningError(
            f"ssh-keygen did not answer within {TIMEOUT} s; is the key locked by "
            "a passphrase and no agent running?"
        ) from None


def _reason(stderr: bytes) -> str:
    lines = [line for line in stderr.decode("utf-8", "replace").splitlines() if line.strip()]
    text = show(lines[-1]) if lines else "ssh-keygen gave no reason"
    return text if text.endswith(".") else f"{text}."
