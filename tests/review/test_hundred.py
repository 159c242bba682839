"""A lead finds three tampered and two careless jobs among many, sends one back, accepts one."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import pytest

from tests.demo.fleet import make, put_back
from wizard.cli import main


def seen(folder: Path, capsys: pytest.CaptureFixture[str]) -> dict[str, Any]:
    main(["review", str(folder), "--json"])
    return {job["file"]: job for job in json.loads(capsys.readouterr().out)["jobs"]}


@pytest.mark.parametrize("count", [22, pytest.param(100, marks=pytest.mark.slow)])
def test_a_lead_finds_the_five(
    count: int, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    folder = tmp_path / "jobs"
    folder.mkdir()
    fleet = make(folder, count)
    seen(folder, capsys)
    put_back(folder, fleet)
    jobs = seen(folder, capsys)
    assert len(jobs) == count
    assert {f for f, job in jobs.items() if job["error"]} == set(fleet.tampered)
    doubted = {f for f, job in jobs.items() if job["doubts"] or job["copied"]}
    assert doubted - set(fleet.tampered) == {*fleet.careless, "F003.toml"}
    assert jobs["F003.toml"]["copied"][0]["file"] == f"F{count:03d}.toml"

    held = folder / f"F{count - 1:03d}.toml"
    words = [
        "remark",
        str(held),
        "job=Too fast to be true. Do phases 3 and 8 again.",
        "--by",
        "Lea",
    ]
    assert main(words) == 0
    assert main(["sign", str(held), "--role", "lead", "--decision", "returned"]) == 0
    good = folder / "F001.toml"
    assert main(["sign", str(good), "--role", "lead", "--decision", "accepted"]) == 0
    assert (
        main(["sign", str(folder / "F005.toml"), "--role", "lead", "--decision", "accepted"]) != 0
    )
    sheet = tmp_path / "F001.html"
    main(["report", str(good), "-o", str(sheet)])
    assert "accepted it on" in sheet.read_text()
    capsys.readouterr()
    jobs = seen(folder, capsys)
    assert jobs[held.name]["decision"] == "returned" and jobs[held.name]["remarks"] == 1
    assert jobs[good.name]["decision"] == "accepted"
