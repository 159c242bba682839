"""Opening and creating jobs.

Invariant: whoever may not write is told so when the job is opened, before anything is typed.
"""

from __future__ import annotations

import os
import stat
from pathlib import Path

from wizard import actions
from wizard.errors import LockedElsewhere, RecordDamaged, StoreError
from wizard.job import Header, Job
from wizard.procedure.item import Procedure
from wizard.record import Loaded, dumps, file_of, id_of, loads
from wizard.store import clock, rescue
from wizard.store.files import Folder, sentence, stamp_of
from wizard.store.lock import Lock, take
from wizard.store.reading import read, with_backup
from wizard.store.session import Session
from wizard.text import show


def open_job(path: Path, procedure: Procedure, who: str, host: str) -> Session:
    """The job open for writing, or read-only where somebody has it or it cannot be written.

    RecordDamaged where the file is not as the tool left it.
    """
    name = path.name
    folder = Folder(path.parent)
    lock: Lock | None = None
    holder = ""
    try:
        loaded, state = _read_sound(folder, name, procedure)
        read_only = loaded.read_only or _refusal(folder, state, name)
        if not read_only:
            try:
                lock = take(folder, name, who, host, clock.now())
            except LockedElsewhere as problem:
                holder, read_only = problem.holder, str(problem)
            except StoreError as problem:
                read_only = str(problem)
        if lock and folder.stamp(name) != stamp_of(state):
            loaded, _ = _read_sound(folder, name, procedure)
            read_only = loaded.read_only
        warnings = _warnings(folder, lock)
        session = Session(folder, name, procedure, loaded, lock, host, holder, read_only, warnings)
        if lock and not read_only:
            folder.sweep(name if lock.sure else "")
            _take_over(session, procedure, loaded, actions.Hand(who, clock.now()))
        return session
    except BaseException:
        _let_go(folder, lock)
        raise


def _let_go(folder: Folder, lock: Lock | None) -> None:
    if lock:
        lock.release()
    folder.close()


def create_job(path: Path, header: Header, procedure: Procedure, who: str, host: str) -> Session:
    """A new job, saved with nothing answered and open for writing; StoreError if it exists."""
    name = path.name
    if file_of(header.id) != name:
        raise StoreError(f"Job {show(header.id)} belongs in a file named {header.id}.toml.")
    folder = Folder(path.parent)
    lock: Lock | None = None
    try:
        lock = take(folder, name, who, host, clock.now())
        data = dumps(Job.new(header, procedure), 1)
        try:
            folder.create(name, data)
        except FileExistsError:
            raise StoreError(f"{name} exists already.") from None
        except OSError as problem:
            raise StoreError(f"{name} is not made: {sentence(problem)}.") from None
        loaded = loads(data, procedure, name)
        return Session(folder, name, procedure, loaded, lock, host, "", "", _warnings(folder, lock))
    except BaseException:
        _let_go(folder, lock)
        raise


def _read_sound(folder: Folder, name: str, procedure: Procedure) -> tuple[Loaded, os.stat_result]:
    """The record where its history is whole too; RecordDamaged otherwise."""
    loaded, state = read(folder, name, procedure)
    if loaded.grave:
        problem = RecordDamaged(str(loaded.grave[0]), show(name))
        raise with_backup(problem, folder, name, procedure)
    return loaded, state


def _refusal(folder: Folder, state: os.stat_result, name: str) -> str:
    """Why this file is not to be written; empty where it may be."""
    if file_of(id_of(name)) != name:
        return "This is a copy that was set aside; it can only be read."
    if not stat.S_IMODE(state.st_mode) & 0o222:
        return "The file is write-protected; it can only be read."
    why = folder.refusal(name)
    return f"The job can only be read: {why}." if why else ""


def _warnings(folder: Folder, lock: Lock | None) -> tuple[str, ...]:
    """What to know of the folder."""
    state = os.fstat(folder.fd)
    out = []
    if state.st_mode & stat.S_IWOTH and not state.st_mode & stat.S_ISVTX:
        out.append("Anybody on this machine can change or remove files in this folder.")
    if state.st_uid not in (0, os.geteuid()) and not state.st_mode & stat.S_IWGRP:
        out.append("The folder belongs to another user, who can change the files in it.")
    if lock and not lock.sure:
        out.append("This folder knows no locks: make sure nobody else has the job open.")
    return tuple(out)


def _take_over(session: Session, procedure: Procedure, loaded: Loaded, hand: actions.Hand) -> None:
    """Note a change of schema or procedure in the job, and offer what a failed save left."""
    kept = rescue.look(session.job, procedure)
    if kept:
        session.rescue = kept.job
        session.warnings += (kept.sentence,)
    version, digest = loaded.procedure
    data: dict[str, object] = {}
    if loaded.older is not None:
        data |= {"schema": loaded.older, "sha256": loaded.sha256}
    if digest != procedure.sha256:
        data |= {"version": version, "procedure": digest, "now": procedure.sha256}
    if data:
        session.job = actions.migrate(session.job, data, hand)
