"""The installed wheel, outside the tree, with all its data files."""

from __future__ import annotations

import shutil
import subprocess
import sys
import zipfile
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[1]


@pytest.fixture(scope="module")
def installed(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The unpacked wheel of a copy of the tree."""
    folder = tmp_path_factory.mktemp("wheel")
    tree = folder / "tree"
    tree.mkdir()
    for name in ("README.md", "pyproject.toml"):
        shutil.copy(ROOT / name, tree)
    shutil.copytree(ROOT / "wizard", tree / "wizard", ignore=shutil.ignore_patterns("__pycache__"))
    build = [
        sys.executable,
        "-m",
        "pip",
        "wheel",
        "-q",
        "--no-deps",
        "--no-build-isolation",
        "-w",
        str(folder),
        str(tree),
    ]
    done = subprocess.run(build, capture_output=True, text=True)
    assert done.returncode == 0, done.stderr
    (wheel,) = folder.glob("*.whl")
    target = folder / "site"
    with zipfile.ZipFile(wheel) as archive:
        archive.extractall(target)
    return target


def test_every_data_file_is_in_the_wheel(installed: Path) -> None:
    kept = {
        p.relative_to(installed / "wizard")
        for p in (installed / "wizard").rglob("*")
        if p.is_file()
    }
    for path in (ROOT / "wizard").rglob("*"):
        if path.is_file() and "__pycache__" not in path.parts:
            assert path.relative_to(ROOT / "wizard") in kept


@pytest.mark.parametrize(
    ("words", "shown", "status"),
    [
        (["items"], "Handover", 0),
        (["calc", "voltage_band", "nameplate=230"], "207 V", 0),
        (["check", "DEMO-15HP.toml"], "HELD", 2),
        (["report", "DEMO-5HP.toml", "--format", "html"], "<style", 0),
        (["guide", "field"], "SSH", 0),
    ],
    ids=lambda w: w[0] if isinstance(w, list) else "",
)
def test_commands_work_from_the_wheel(
    installed: Path, tmp_path: Path, words: list[str], shown: str, status: int
) -> None:
    for job in (ROOT / "demo_jobs").glob("*.toml"):
        shutil.copy(job, tmp_path)
    code = (
        f"import sys; sys.path.insert(0, {str(installed)!r}); import wizard; "
        f"assert wizard.__file__.startswith({str(installed)!r}); "
        "from wizard.cli import main; sys.exit(main(sys.argv[1:]))"
    )
    done = subprocess.run(
        [sys.executable, "-c", code, *words],
        cwd=tmp_path,
        text=True,
        capture_output=True,
        env={"HOME": str(tmp_path), "PATH": "/usr/bin:/bin", "LANG": "C.UTF-8"},
    )
    assert shown in done.stdout, done.stderr
    assert done.returncode == status, done.stderr
