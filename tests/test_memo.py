"""What is kept between two starts: used where it is sound, never where anything changed."""

from __future__ import annotations

import json
import os
import shutil
import subprocess
import sys
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest

from wizard import memo
from wizard.kinds import KINDS
from wizard.procedure import procedure
from wizard.procedure.plain import from_plain, to_plain
from wizard.quantities import conversions, recall, to_si

ROOT = Path(__file__).parents[1]
JOB = ROOT / "demo_jobs" / "DEMO-15HP.toml"
CALC = ("calc", "supply_voltage", "nameplate=230 V", "measured=0.241 kV")
INCHES = ("calc", "belt_span", "centre_distance=24 in", "large=13.8 in", "small=7.6 in")


def run(home: Path, *words: str, package: Path = ROOT) -> subprocess.CompletedProcess[str]:
    """The program with a home, a cache and perhaps a copy of its code of its own."""
    environment = {**os.environ, "HOME": str(home), "PYTHONPATH": str(package)}
    for name in ("XDG_CACHE_HOME", "PYTHONDONTWRITEBYTECODE"):
        environment.pop(name, None)
    code = "import sys; from wizard.cli import main; sys.exit(main())"
    command = [sys.executable, "-c", code, *words]
    return subprocess.run(command, capture_output=True, text=True, env=environment, cwd=home)


@pytest.fixture(scope="module")
def started(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A folder with a copy of the package that has started once, and what it kept then."""
    folder = tmp_path_factory.mktemp("started")
    shutil.copytree(ROOT / "wizard", folder / "code" / "wizard", ignore=_not_compiled)
    assert run(folder, "items", package=folder / "code").returncode == 0
    assert (folder / ".cache" / "wizard" / "procedure.json").is_file()
    return folder


@pytest.fixture
def copied(started: Path, tmp_path: Path) -> Iterator[Path]:
    """That copy, to be changed, with what it kept in the home of this test."""
    shutil.copytree(started / ".cache", tmp_path / ".cache")
    sources = [p for p in (started / "code").rglob("*") if p.suffix in (".py", ".toml")]
    before = {p: (p.stat().st_mtime_ns, p.read_bytes()) for p in sources}
    yield started / "code"
    for path, (time, content) in before.items():
        if path.read_bytes() != content:
            path.write_bytes(content)
            os.utime(path, ns=(time, time))


def _not_compiled(_: str, names: list[str]) -> set[str]:
    return {n for n in names if n in ("__pycache__", "tui")}


def test_a_procedure_comes_back_as_it_was() -> None:
    kept = json.loads(json.dumps(to_plain(procedure())))
    assert from_plain(kept) == procedure()


def test_every_conversion_is_kept_to_the_last_bit() -> None:
    before = {(k, u): (f, o) for k, u, f, o in conversions()}
    assert len(before) == sum(len(k.units) for k in KINDS.values())
    recall(json.loads(json.dumps(conversions())))
    assert {(k, u): (f, o) for k, u, f, o in conversions()} == before
    assert to_si(1.0, "length", "in") == 0.0254


def test_a_second_start_says_the_same_and_loads_no_pint(tmp_path: Path) -> None:
    first, second = run(tmp_path, *CALC), run(tmp_path, *CALC)
    assert (first.stdout, first.returncode) == (second.stdout, second.returncode)
    assert "241" in first.stdout
    code = (
        "import sys; from wizard.cli import main; main(sys.argv[1:]); "
        "print('pint' in sys.modules, file=sys.stderr)"
    )
    environment = {**os.environ, "HOME": str(tmp_path)}
    environment.pop("XDG_CACHE_HOME", None)
    command = [sys.executable, "-c", code, *CALC]
    third = subprocess.run(command, capture_output=True, text=True, env=environment)
    assert third.stderr == "False\n"
    assert third.stdout == first.stdout


@pytest.fixture(scope="module")
def inches(tmp_path_factory: pytest.TempPathFactory) -> tuple[str, str, bytes]:
    """What a calculation says at the first start, and what it then keeps."""
    home = tmp_path_factory.mktemp("inches")
    told = run(home, *INCHES)
    return told.stdout, told.stderr, (home / ".cache" / "wizard" / "start.json").read_bytes()


@pytest.mark.parametrize(
    "damage",
    [
        lambda b: b"",
        lambda b: b[:-40],
        lambda b: b.replace(b"0.0254", b"0.0255"),
        lambda b: b[b.index(b"\n") :],
        lambda b: b"\xff" * len(b),
        lambda b: b.partition(b"\n")[0] + b"\n[]",
    ],
)
def test_a_damaged_memo_is_not_used(
    tmp_path: Path, inches: tuple[str, str, bytes], damage: Callable[[bytes], bytes]
) -> None:
    kept = tmp_path / ".cache" / "wizard" / "start.json"
    kept.parent.mkdir(parents=True)
    kept.write_bytes(damage(inches[2]))
    kept.chmod(0o600)
    after = run(tmp_path, *INCHES)
    assert (after.stdout, after.stderr) == inches[:2]


def test_a_memo_that_others_may_write_is_not_used(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    run(tmp_path, *CALC)
    kept = tmp_path / ".cache" / "wizard" / "start.json"
    kept.chmod(0o666)
    monkeypatch.setenv("XDG_CACHE_HOME", str(tmp_path / ".cache"))
    assert memo._read("start.json", memo._program()) is None
    kept.chmod(0o600)
    assert memo._read("start.json", memo._program())


@pytest.mark.skipif(os.geteuid() == 0, reason="root writes everywhere")
def test_without_a_folder_to_write_in_all_works(tmp_path: Path) -> None:
    tmp_path.chmod(0o500)
    try:
        assert "241" in run(tmp_path, *CALC).stdout
    finally:
        tmp_path.chmod(0o700)


def test_a_cache_folder_that_is_a_file_is_no_loss(tmp_path: Path) -> None:
    (tmp_path / ".cache").write_text("not a folder")
    told = run(tmp_path, *CALC)
    assert "241" in told.stdout
    assert told.stderr == ""


def test_a_changed_phase_file_is_verified_though_its_time_and_size_are_the_same(
    tmp_path: Path, copied: Path
) -> None:
    phase = copied / "wizard" / "procedure" / "phases" / "15_handover.toml"
    state, text = phase.stat(), phase.read_text("utf-8")
    phase.write_text(text.replace('kind = "confirm"', 'kind = "confirn"', 1), encoding="utf-8")
    os.utime(phase, ns=(state.st_atime_ns, state.st_mtime_ns))
    told = run(tmp_path, "items", package=copied)
    assert told.returncode == 3
    assert "15_handover.toml" in told.stderr
    assert "confirn" in told.stderr


def test_a_changed_rule_is_verified_again(tmp_path: Path, copied: Path) -> None:
    rule = copied / "wizard" / "checks" / "supply.py"
    rule.write_text(rule.read_text("utf-8").replace("nameplate: Voltage", "plate: Voltage", 1))
    told = run(tmp_path, "items", package=copied)
    assert told.returncode == 3
    assert "nameplate" in told.stderr


def test_a_changed_record_is_checked_anew(tmp_path: Path) -> None:
    copy = tmp_path / JOB.name
    shutil.copy(JOB, copy)
    assert run(tmp_path, "check", copy.name).returncode == 2
    state = copy.stat()
    copy.write_bytes(copy.read_bytes().replace(b"Tess Example", b"Tess Examplf", 1))
    os.utime(copy, ns=(state.st_atime_ns, state.st_mtime_ns))
    told = run(tmp_path, "check", copy.name)
    assert told.returncode == 3
    assert copy.name in told.stderr


def test_a_changed_rule_speaks_at_once(tmp_path: Path, copied: Path) -> None:
    before = run(tmp_path, "check", str(JOB), package=copied)
    word = copied / "wizard" / "checks" / "hose.py"
    text = word.read_text("utf-8")
    changed = text.replace("hose stands less than", "hose stands lesser than")
    assert changed != text
    word.write_text(changed)
    after = run(tmp_path, "check", str(JOB), package=copied)
    assert "stands lesser" not in before.stdout
    assert "stands lesser" in after.stdout


def test_a_screen_has_its_first_start_worked_out_apart(tmp_path: Path) -> None:
    code = (
        "import sys; from wizard import memo; from wizard.procedure import procedure\n"
        "memo.warm_apart(); procedure()\n"
        "print('pint' in sys.modules, *sorted(p.name for p in memo.cache_home().iterdir()))"
    )
    environment = {**os.environ, "XDG_CACHE_HOME": str(tmp_path / "cache")}
    (tmp_path / "json.py").write_text("raise SystemExit('what lies beside the jobs was run')")
    command = [sys.executable, "-P", "-c", code]
    first = subprocess.run(command, capture_output=True, text=True, env=environment, cwd=tmp_path)
    assert first.stdout.split() == ["False", "procedure.json", "start.json"], first.stderr


def test_a_screen_starts_where_nothing_can_be_kept(tmp_path: Path) -> None:
    code = (
        "from wizard import memo, quantities\n"
        "memo.warm_apart(); print(quantities.to_si(1.0, 'length', 'in'))"
    )
    environment = {**os.environ, "XDG_CACHE_HOME": "/proc/nothing"}
    command = [sys.executable, "-P", "-c", code]
    first = subprocess.run(command, capture_output=True, text=True, env=environment, cwd=tmp_path)
    assert first.stdout == "0.0254\n", first.stderr
