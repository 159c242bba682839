"""`wizard sign`: a role signs the record off, with an SSH key or without; what was signed."""

from __future__ import annotations

import argparse
from pathlib import Path

from wizard.commands.output import GOOD, narrate
from wizard.commands.people import host, who
from wizard.errors import InputError
from wizard.procedure import procedure
from wizard.review.lead import Lead
from wizard.signing import DECISIONS, ROLES, signoffs, statement
from wizard.store import read_job
from wizard.text import show


def run(args: argparse.Namespace) -> int:
    """Sign and save; say what was signed. With --show, print what a signature is verified with."""
    if args.show:
        return _show(Path(args.job), args.show, args.event)
    decision = chosen(args.role, args.decision)
    person = who(args.by)
    key = str(Path(args.key).expanduser()) if args.key else ""
    lead = Lead(person, host(), procedure(), args.principal, key)
    path = Path(args.job)
    job = lead.send_back(path) if decision == "returned" else lead.sign(path, args.role, decision)
    signed = signoffs(job)[-1].data
    name = show(signed["principal"])
    print(f"{job.header.id}: {signed['role']} {name}: {decision}, up to event {signed['covers']}")
    if not key:
        narrate("Unsigned: without --key the record tells of accidents only, not of forgery.")
    return GOOD


def _show(path: Path, what: str, seq: int) -> int:
    """Print the statement of a sign-off, or its signature, as ssh-keygen verifies them."""
    job = read_job(path, procedure()).job
    signed = {e.seq: e for e in signoffs(job) if "signature" in e.data}
    event = signed.get(seq or max(signed, default=0))
    if event is None:
        known = ", ".join(map(str, signed)) or "none: nobody signed with a key"
        raise InputError("--event", str(seq or "nothing"), known)
    made = statement(job.header.uuid, event.data).decode()
    print(made if what == "statement" else str(event.data["signature"]), end="")
    return GOOD


def chosen(role: str, decision: str) -> str:
    """The decision of a role; a lead has to say which."""
    if role not in ROLES:
        raise InputError("--role", show(role) or "nothing", ", ".join(ROLES))
    if not decision and len(DECISIONS[role]) == 1:
        return DECISIONS[role][0]
    if decision not in DECISIONS[role]:
        raise InputError("--decision", show(decision) or "nothing", " or ".join(DECISIONS[role]))
    return decision
