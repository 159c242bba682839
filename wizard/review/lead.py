"""What a lead does to a record: remarks, sending it back, accepting it, signing it.

Invariant: everything goes through the store and its lock, nothing is decided about a record that
cannot be relied on, no signature is saved that the list of the one who signs does not bear out,
and what the lead saved is what the lead remembers having seen.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace
from pathlib import Path

from wizard import remarks
from wizard.actions import Hand
from wizard.errors import Refused, StoreError
from wizard.job import Job
from wizard.procedure.item import Procedure
from wizard.record import chains, head
from wizard.review.copies import grown_apart, not_alone
from wizard.review.last_seen import LastSeen, older_copy, rollback
from wizard.review.row import Row
from wizard.review.trust import Trust
from wizard.signing import check, check_one, sign_off
from wizard.store import Session, now, open_job


@dataclass(frozen=True)
class Lead:
    """One person with a name, and a key where there is one."""

    who: str
    host: str
    procedure: Procedure
    principal: str = ""
    key: str = ""

    def remark(self, path: Path, key: str, text: str) -> Job:
        """Write a remark against an item, or against the job."""
        return self._write(path, lambda s: remarks.remark(s.job, key, text, self._hand()))

    def reply(self, path: Path, key: str, text: str) -> Job:
        """Reply to the open remarks against an item."""
        return self._write(path, lambda s: remarks.reply(s.job, key, text, self._hand()))

    def send_back(self, path: Path, text: str = "") -> Job:
        """Return the job to the technician; `text` is a remark against the whole job."""

        def returned(session: Session) -> Job:
            job = session.job
            if text:
                job = remarks.remark(job, "", text, self._hand())
            if not job.open_remarks():
                raise Refused("Say with a remark what is to be done, then send the job back.")
            return self._signed(job, session, "lead", "returned")

        return self._write(path, returned)

    def accept(self, path: Path) -> Job:
        """Accept the job; Refused under a hold, unfinished, or not to be relied on."""
        return self.sign(path, "lead", "accepted")

    def sign(self, path: Path, role: str, decision: str) -> Job:
        """Sign the job off in a role."""

        def signed(session: Session) -> Job:
            signs_anew = role if self.key else ""
            if decision == "accepted" and (why_not := distrust(session, signs_anew)):
                raise Refused(f"The job cannot be accepted. {why_not}")
            return self._signed(session.job, session, role, decision)

        return self._write(path, signed)

    def _signed(self, job: Job, session: Session, role: str, decision: str) -> Job:
        trust, hand = Trust.own(), self._hand()
        principal = self.principal or trust.proposed(self.key, role) or self.who
        signed = sign_off(job, role, decision, principal, hand, self.key, session.extra)
        if self.key and trust.allowed:
            made, last = chains(signed, session.extra), signed.events[-1]
            if not check_one(signed, last, made, trust.allowed, trust.revoked, hand.at).good:
                raise Refused(trust.why_not(last.data["signature"], principal, role))
        return signed

    def _hand(self) -> Hand:
        return Hand(self.who, now())

    def _write(self, path: Path, act: Callable[[Session], Job]) -> Job:
        with open_job(path, self.procedure, self.who, self.host) as session:
            if session.read_only:
                raise StoreError(session.read_only)
            session.save(act(session))
            remember(session)
            return session.job


def distrust(session: Session, signs_anew: str = "") -> str:
    """Why the record cannot be relied on: a history put back, another copy of the job that may
    be the true one, or a sign-off that is not good.

    A role that signs anew with a key puts right what is not good of its own signatures.
    """
    job, trust = session.job, Trust.own()
    made = chains(job, session.extra)
    for one in check(job, made, trust.allowed, trust.revoked, now()):
        if one.bad and (one.foreign or one.event.data["role"] != signs_anew):
            return one.text
    seen, row = LastSeen.load(), _row(session)
    known, folder = seen.known(), str(session.path.parent.resolve())
    seq, _ = known.get(job.header.uuid, (0, ""))
    apart = grown_apart(row, made, known, seen.places(), folder)
    older = apart or older_copy(row, known, seen.places(), folder)
    back = older or rollback(row, known, made.get(seq))
    return back or not_alone(session.path, job.header.uuid, made)


def remember(session: Session) -> None:
    """Remember how far the history goes now."""
    seen = LastSeen.load()
    seen.note(_row(session), str(session.path.parent.resolve()))
    seen.save()


def _row(session: Session) -> Row:
    job = session.job
    seq, chain = head(job, session.extra)
    row = Row(session.path.name, job.header.id, job.state)
    return replace(row, uuid=job.header.uuid, seq=seq, chain=chain)
