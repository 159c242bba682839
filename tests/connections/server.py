"""An OpenSSH server of the test's own: on loopback, on a free port, with keys in a folder.

Nothing of the system's configuration is read or written.
"""

from __future__ import annotations

import getpass
import os
import shlex
import shutil
import signal
import socket
import subprocess
import sys
import time
from contextlib import suppress
from pathlib import Path

from tests.tui.terminal import ROOT, Terminal

EXEC = "import os, sys; os.execvp(sys.argv[1], sys.argv[1:])"
PATIENCE = 20.0
CONFIG = """
Port {port}
ListenAddress 127.0.0.1
HostKey {folder}/host
PidFile {folder}/pid
AuthorizedKeysFile {folder}/me.pub
StrictModes no
UsePAM no
PasswordAuthentication no
KbdInteractiveAuthentication no
PermitRootLogin prohibit-password
PermitUserEnvironment no
PrintMotd no
PrintLastLog no
X11Forwarding no
MaxStartups 50
"""


def daemon() -> str:
    """Where the server program is; empty where it is not installed."""
    return shutil.which("sshd") or shutil.which("sshd", path="/usr/sbin:/usr/local/sbin") or ""


def missing() -> str:
    """Why there can be no server here; empty where there can."""
    lacking = [n for n in ("ssh", "ssh-keygen") if not shutil.which(n)]
    lacking += [] if daemon() else ["sshd"]
    return f"not installed: {', '.join(lacking)}" if lacking else ""


def free_port() -> int:
    """A port nobody listens on."""
    with socket.socket() as probe:
        probe.bind(("127.0.0.1", 0))
        port: int = probe.getsockname()[1]
        return port


class Server:
    """A running server, and how to log in to it."""

    def __init__(self, folder: Path) -> None:
        self.folder, self.port = folder, free_port()
        self._make_keys()
        config = folder / "config"
        config.write_text(CONFIG.format(port=self.port, folder=folder))
        if os.geteuid() == 0:
            # A server run by root wants this empty folder, which a boot script makes elsewhere.
            Path("/run/sshd").mkdir(mode=0o755, exist_ok=True)
        with (folder / "log").open("wb") as log:
            self.process = subprocess.Popen(
                [daemon(), "-D", "-e", "-f", str(config)], stdout=log, stderr=log
            )
        self._wait_until_up()

    def _make_keys(self) -> None:
        for name in ("host", "me"):
            subprocess.run(
                ["ssh-keygen", "-q", "-t", "ed25519", "-N", "", "-f", str(self.folder / name)],
                check=True,
                stdin=subprocess.DEVNULL,
                timeout=PATIENCE,
            )
        public = (self.folder / "host.pub").read_text().split()[:2]
        known = f"[127.0.0.1]:{self.port} {' '.join(public)}\n"
        (self.folder / "known").write_text(known)

    def _wait_until_up(self) -> None:
        end = time.monotonic() + PATIENCE
        while time.monotonic() < end and self.process.poll() is None:
            with suppress(OSError), socket.create_connection(("127.0.0.1", self.port), 1):
                return
            time.sleep(0.02)
        raise RuntimeError(f"no server: {(self.folder / 'log').read_text()[-500:]}")

    def command(self, remote: str, *options: str) -> list[str]:
        """The client's command line."""
        client = [
            "ssh", "-tt", "-q", "-F", "none", "-i", f"{self.folder}/me",
            "-o", "IdentitiesOnly=yes", "-o", "IdentityAgent=none",
            "-o", "StrictHostKeyChecking=yes", "-o", f"UserKnownHostsFile={self.folder}/known",
            "-o", "GlobalKnownHostsFile=none", "-p", str(self.port),
        ]  # fmt: skip
        return [*client, *options, f"{getpass.getuser()}@127.0.0.1", remote]

    def login(self, home: Path, *program: str, size: tuple[int, int] = (80, 24)) -> Terminal:
        """A terminal on the program at the other end, run in the home folder given."""
        return self.login_with((), home, *program, size=size)

    def login_with(
        self, options: tuple[str, ...], home: Path, *program: str, size: tuple[int, int] = (80, 24)
    ) -> Terminal:
        """As `login`, with options for the client."""
        cache = f"XDG_CACHE_HOME={os.environ.get('XDG_CACHE_HOME', '')}"
        there = ["env", f"HOME={home}", cache, f"PYTHONPATH={ROOT}", "LANG=C.UTF-8", sys.executable]
        remote = f"cd {shlex.quote(str(ROOT))} && exec {shlex.join([*there, *program])}"
        return Terminal(["-c", EXEC, *self.command(remote, *options)], size=size)

    def sessions(self) -> list[int]:
        """The processes of the server that serve the connections now."""
        return [p for p in children(self.process.pid) if name_of(p) == "sshd"]

    def stop(self) -> None:
        """End the server and what it serves."""
        for pid in children(self.process.pid):
            with suppress(ProcessLookupError):
                os.kill(pid, signal.SIGKILL)
        self.process.kill()
        self.process.wait()


def children(pid: int) -> list[int]:
    """The processes started by one, and theirs."""
    parents = {}
    for entry in Path("/proc").iterdir():
        if entry.name.isdecimal():
            with suppress(OSError, IndexError, ValueError):
                stat = (entry / "stat").read_text().rpartition(")")[2].split()
                parents[int(entry.name)] = int(stat[1])
    found: list[int] = []
    wanted = {pid}
    while new := [p for p, parent in parents.items() if parent in wanted and p not in found]:
        found += new
        wanted |= set(new)
    return found


def name_of(pid: int) -> str:
    """What a process is called; empty where it has ended."""
    with suppress(OSError):
        return Path(f"/proc/{pid}/comm").read_text().strip()
    return ""
