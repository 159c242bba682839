"""Who signed, and how anybody can verify it.

Invariant: an unsigned record is called unsigned, and what a sheet shows is not the record.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from shlex import quote

from wizard.report.blocks import Block, Code, Facts, Lines, Para, Section, Table
from wizard.report.readings import Reader
from wizard.signing import Checked, namespace, statement

STATEMENT = ("Form", "Role", "Signer", "Job", "Up to event", "Link", "Decision", "Time")
"""The lines that a sign-off signs."""
UNSIGNED = (
    "Nobody has signed this record with a key. Its seal and its history tell of accidents, and "
    "not of somebody who changes it on purpose."
)


@dataclass(frozen=True)
class Evidence:
    """What a sheet was made from: the file, its digest, its revision and the last link."""

    file: str
    sha256: str
    revision: int
    seq: int
    chain: str
    checked: Sequence[Checked]
    problems: Sequence[str]
    older: str = ""
    """Where a later copy of the record was seen, in one sentence; empty where none was."""


def signatures(reader: Reader, evidence: Evidence) -> Section:
    """Sign-offs with their state, and lines for pen and ink."""
    rows = []
    for checked in evidence.checked:
        data = checked.event.data
        rows.append(
            (
                str(data["role"]),
                str(data["principal"]),
                str(data["decision"]),
                f"{data['signed_at']:%Y-%m-%d %H:%M}",
                _state(checked),
            )
        )
    blocks: list[Block] = []
    if rows:
        head = ("Role", "Signed by", "Decision", "When, as they say", "Signature")
        blocks.append(Table(head, tuple(rows), (12, 28, 11, 17, 22)))
    if not any("signature" in c.event.data for c in evidence.checked):
        blocks.append(Para(UNSIGNED))
    customer = reader.text("handover.customer")
    technician = reader.text("prep.technician")
    blocks.append(
        Lines(
            (
                f"For the customer{f': {customer}' if customer else ''}",
                f"Technician{f': {technician}' if technician else ''}",
                "Licensed electrician",
            )
        )
    )
    return Section("Signatures", tuple(blocks))


def _state(checked: Checked) -> str:
    if "signature" not in checked.event.data:
        return "without a key"
    if checked.renewed:
        return "not good; signed anew"
    return {True: "good", False: "NOT GOOD", None: "not verified here"}[checked.good]


def verify(reader: Reader, evidence: Evidence) -> Section:
    """How to see that this sheet tells what the record holds."""
    uuid = reader.job.header.uuid
    blocks: list[Block] = [
        Para(
            "This sheet is a view. The record is the file named here; keep it with the sheet. "
            "Anybody with the tool can judge it again from its raw readings:"
        ),
        Code((f"wizard check {evidence.file}", f"wizard review {evidence.file}")),
        Para(
            "The file must have this digest, and its history must end with this link; a sign-off "
            "signs the link, so that nothing before it can be changed:"
        ),
        Facts(
            (
                ("File", evidence.file),
                ("SHA-256 of the file", evidence.sha256),
                ("Job", uuid),
                ("Revision", str(evidence.revision)),
                ("Events", str(evidence.seq)),
                ("Last link", evidence.chain),
            )
        ),
        *_verifying(uuid, evidence),
    ]
    return Section("How to verify it", tuple(blocks))


def _verifying(uuid: str, evidence: Evidence) -> Iterator[Block]:
    """What each signature is over, and the commands that verify it."""
    signed = [c.event for c in evidence.checked if "signature" in c.event.data]
    if not signed:
        return
    yield Para(
        "A signature is an SSH signature over a statement of eight lines, which are given here for "
        "each. The signature stands with its event in the record. ssh-keygen verifies it, with a "
        "list of the keys you believe in the place of allowed_signers:"
    )
    for event in signed:
        shown = f"wizard sign {quote(evidence.file)} --event {event.seq} --show"
        verify = f"ssh-keygen -Y verify -f allowed_signers -I {quote(event.data['principal'])}"
        space = namespace(event.data["role"])
        lines = statement(uuid, event.data).decode().splitlines()
        yield Facts((("Event", str(event.seq)), *zip(STATEMENT, lines, strict=True)))
        yield Code(
            (
                f"{shown} statement > statement.txt",
                f"{shown} signature > signature.sig",
                f"{verify} -n {space} -s signature.sig < statement.txt",
            )
        )
