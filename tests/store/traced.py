"""One save under strace: real system calls that fail or kill, and the order they come in.

python -m tests.store.traced FOLDER FAULT   prints what was counted as JSON
python -m tests.store.traced FOLDER         prints the calls of one save, a line each
"""

from __future__ import annotations

import json
import os
import signal
import subprocess
import sys
from pathlib import Path

from tests.store.faults import Count, child, fresh, on_disk, opened, opens, said
from tests.store.jobs import answered
from wizard.errors import StoreError

SWEPT = ("openat", "write", "fsync", "close", "linkat", "renameat", "unlinkat", "fchmod", "fstat")
ORDER = "openat,write,fsync,close,linkat,renameat,unlinkat,fchmod"


class NotTraceable(Exception):
    """strace may not attach here."""


def traced(path: Path, options: list[str]) -> list[str]:
    """Save once with strace attached from just before to just after; what the saver told."""
    start_reader, start = os.pipe()

    def saver(ack: int) -> None:
        os.close(start)
        session = opened(path)
        job = answered(session.job, 2, "244 V")
        os.write(ack, b"open\n")
        os.read(start_reader, 1)
        try:
            session.save(job)
            os.write(ack, b"saved\n")
        except (StoreError, OSError):
            os.kill(os.getpid(), signal.SIGSTOP)
            session.save(job)
            os.write(ack, b"saved\n")

    pid, reader = child(saver)
    os.close(start_reader)
    os.read(reader, 16)
    tracer = subprocess.Popen(
        ["strace", "-p", str(pid), *options], stderr=subprocess.PIPE, text=True
    )
    assert tracer.stderr
    if "attached" not in tracer.stderr.readline():
        os.kill(pid, signal.SIGKILL)
        raise NotTraceable
    os.write(start, b"x")
    os.close(start)
    _, status = os.waitpid(pid, os.WUNTRACED)
    if os.WIFSTOPPED(status):
        tracer.terminate()
        tracer.wait()
        os.kill(pid, signal.SIGCONT)
        os.waitpid(pid, 0)
    tracer.communicate()
    return said(reader)


def sweep(folder: Path, fault: str) -> Count:
    """The fault at the 1st, 2nd, ... of each kind of call, until a save runs untouched."""
    action = "signal=KILL" if fault == "KILL" else f"error={fault.rstrip('+')}"
    count = Count(points=0, torn=0, lost=0, unsaved=0, left_over=0)
    for call in SWEPT:
        for at in range(1, 20):
            path = fresh(folder)
            log = folder.parent / "strace.log"
            inject = f"inject={call}:{action}:when={at}{'+' * fault.endswith('+')}"
            done = traced(path, ["-e", f"trace={call}", "-e", inject, "-o", str(log)])
            if "INJECTED" not in log.read_text() and "killed by SIGKILL" not in log.read_text():
                break
            count.add("points")
            job = on_disk(path)
            raw = job.answers["supply.voltage_2"].raw if job else ""
            count.add("torn", raw not in ("232 V", "244 V"))
            count.add("lost", "saved" in done and raw != "244 V")
            count.add("unsaved", fault != "KILL" and "saved" not in done)
            count.add("left_over", not opens(path))
    return count


def main(folder: Path, fault: str = "") -> None:
    """What the command line asks for."""
    try:
        if fault:
            print(json.dumps(sweep(folder / "job", fault)))
            return
        log = folder / "strace.log"
        path = fresh(folder / "job")
        traced(path, ["-e", f"trace={ORDER}", "-o", str(log)])
        print(log.read_text(), end="")
    except NotTraceable:
        print("strace may not attach here")


if __name__ == "__main__":
    main(Path(sys.argv[1]), *sys.argv[2:])
