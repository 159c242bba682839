"""One save under strace: the order of its calls, and real faults at each of them."""

from __future__ import annotations

import json
import re
import shutil
import subprocess
import sys
from pathlib import Path

import pytest

from tests.store.run import ROOT

pytestmark = pytest.mark.skipif(shutil.which("strace") is None, reason="no strace")


def trace(*words: object) -> str:
    done = subprocess.run(
        [sys.executable, "-m", "tests.store.traced", *map(str, words)],
        cwd=ROOT,
        capture_output=True,
        text=True,
    )
    assert done.returncode == 0, done.stderr
    if "may not attach" in done.stdout:
        pytest.skip("strace may not attach to a process here")
    return done.stdout


def test_the_file_is_flushed_before_the_rename_and_the_folder_after_it(tmp_path: Path) -> None:
    calls = trace(tmp_path).splitlines()
    assert sum("fsync(" in c for c in calls) == 2
    steps = [
        r'openat\(\d+, "\.T1\.toml\.[0-9a-f]{12}\.tmp", .*O_EXCL.*O_NOFOLLOW.*O_CLOEXEC',
        r"write\(",
        r"fsync\(",
        r"close\(",
        r'linkat\(\d+, "T1\.toml", ',
        r'renameat\(.*, "T1\.toml\.bak"',
        r'renameat\(.*, "T1\.toml"\)',
        r"fsync\(",
        r"write\(.*saved",
    ]
    at = -1
    for step in steps:
        at = next((n for n, c in enumerate(calls) if n > at and re.match(step, c)), 10_000)
        assert at < 10_000, (step, calls)


@pytest.mark.parametrize("fault", ["KILL", "EIO", "ENOSPC", "EDQUOT", "EIO+", "ENOSPC+"])
def test_a_fault_at_each_system_call(fault: str, tmp_path: Path) -> None:
    counted = json.loads(trace(tmp_path, fault))
    print(fault, counted)
    assert counted.pop("points") >= 13
    assert set(counted.values()) == {0}, counted
