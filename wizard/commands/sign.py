"""`wizard sign`: a role signs the record off, with an SSH key or without."""

from __future__ import annotations

import argparse
from pathlib import Path

from wizard.commands.output import GOOD, narrate
from wizard.commands.people import host, who
from wizard.errors import InputError
from wizard.procedure import procedure
from wizard.review.lead import Lead
from wizard.signing import DECISIONS, ROLES, signoffs
from wizard.text import show


def run(args: argparse.Namespace) -> int:
    """Sign and save; say what was signed and how it can be verified."""
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


def chosen(role: str, decision: str) -> str:
    """The decision of a role; a lead has to say which."""
    if role not in ROLES:
        raise InputError("--role", show(role) or "nothing", ", ".join(ROLES))
    if not decision and len(DECISIONS[role]) == 1:
        return DECISIONS[role][0]
    if decision not in DECISIONS[role]:
        raise InputError("--decision", show(decision) or "nothing", " or ".join(DECISIONS[role]))
    return decision
