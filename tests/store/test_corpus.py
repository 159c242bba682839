"""The public TOML test corpus through the loader; TOML_CORPUS names its folder.

It comes with the source distribution of tomlkit:
pip download --no-binary :all: --no-deps tomlkit, then tests/toml-test/tests in the archive.
"""

from __future__ import annotations

import os
import tomllib
from pathlib import Path

import pytest

from tests.test_job import full
from tests.test_record import PROCEDURE, exact, sealed
from wizard.errors import RecordError
from wizard.record import Extra, dumps, loads
from wizard.record.guard import parse

FOLDER = os.environ.get("TOML_CORPUS", "")

pytestmark = [
    pytest.mark.slow,
    pytest.mark.skipif(not FOLDER, reason="TOML_CORPUS does not name the corpus"),
]


def files(kind: str) -> list[Path]:
    """The files of TOML 1.0 that are valid or invalid."""
    names = (Path(FOLDER) / "files-toml-1.0.0").read_text().split()
    return [Path(FOLDER) / n for n in names if n.startswith(kind) and n.endswith(".toml")]


def refused(data: bytes) -> bool:
    try:
        parse(data, "T1.toml")
    except RecordError as problem:
        assert str(problem).isprintable()
        return True
    return False


def test_every_invalid_file_is_refused() -> None:
    invalid = files("invalid")
    assert len(invalid) > 400
    assert [p.name for p in invalid if not refused(p.read_bytes())] == []


def test_valid_files_are_read_alike_and_written_so_that_they_read_alike() -> None:
    valid, read = files("valid"), 0
    assert len(valid) > 200
    for path in valid:
        data = path.read_bytes()
        if refused(data):
            continue
        read += 1
        tables = parse(data, "T1.toml")
        assert repr(tables) == repr(tomllib.loads(data.decode())), path.name
        again = tomllib.loads(dumps(full(), 3, Extra(tables={"": {"x": tables}})).decode())
        assert exact(again["x"]) == exact(tables), path.name
    print(f"{read} of {len(valid)} valid files read")
    assert read > 0.8 * len(valid)


def test_no_file_inside_a_sealed_record_does_more_than_be_refused() -> None:
    text, count = dumps(full(), 3).decode(), 0
    for path in (*files("valid"), *files("invalid")):
        try:
            inner = path.read_bytes().decode()
        except UnicodeDecodeError:
            continue
        for data in (
            sealed(text.replace("[seal]", f"{inner}\n[seal]")),
            sealed(text.replace("\n[seal]\n", f"\n[x]\n{inner}\n[seal]\n")),
        ):
            count += 1
            try:
                found = loads(data, PROCEDURE, "T1.toml")
            except RecordError as problem:
                assert str(problem).isprintable()
            else:
                again = loads(dumps(found.job, 4, found.extra), PROCEDURE)
                assert exact(again.extra.tables) == exact(found.extra.tables), path.name
                assert exact(again.extra.rows) == exact(found.extra.rows), path.name
    print(f"{count} records with a corpus file inside")
