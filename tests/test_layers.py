"""Modules import downwards only, and the core loads no screen library."""

from __future__ import annotations

import ast
import subprocess
import sys
from pathlib import Path

import pytest

PACKAGE = Path(__file__).parents[1] / "wizard"

LAYERS = (
    ("errors", "sources", "kinds", "text", "modules"),
    ("quantities",),
    ("formula", "both_units"),
    ("calc",),
    ("tables",),
    ("finding",),
    ("maintenance",),
    ("checks",),
    ("settings",),
    ("procedure",),
    ("answer", "instrument"),
    ("judge", "event"),
    ("visit",),
    ("ledger",),
    ("job",),
    ("actions", "render", "accuracy", "stopwatch"),
    ("remarks",),
    ("pictures",),
    ("record",),
    ("store",),
    (
        "logger_file",
        "machine_file",
        "recent",
        "preparation",
        "history",
        "fleet",
        "csv_file",
        "service",
    ),
    ("memo", "settings_file", "self_check", "keys"),
    ("calendar_file", "signing", "report", "review", "practice", "guide"),
    ("commands",),
    ("tui",),
    ("cli", "__main__"),
)
RANK = {name: rank for rank, layer in enumerate(LAYERS) for name in layer}
SCREEN_ONLY = {"textual", "rich"}
DEFERRED = {("commands", "tui"): "a command opens the screens only where one is asked for"}
TABLES_AND_CALC = {("calc", "tables"): "formulas that interpolate a published table read it"}
PYDANTIC = {"record", "settings_file", "store", "practice"}


def _first(module: Path) -> str:
    parts = module.relative_to(PACKAGE).with_suffix("").parts
    return parts[0]


def _imports(module: Path) -> set[str]:
    found: set[str] = set()
    for node in ast.walk(ast.parse(module.read_text("utf-8"))):
        if isinstance(node, ast.Import):
            found.update(alias.name for alias in node.names)
        elif isinstance(node, ast.ImportFrom) and node.module:
            if node.module == "wizard":
                found.update(f"wizard.{alias.name}" for alias in node.names)
            else:
                found.add(node.module)
    return found


MODULES = sorted(p for p in PACKAGE.rglob("*.py") if p.parent != PACKAGE or p.name != "__init__.py")


@pytest.mark.parametrize("module", MODULES, ids=lambda p: str(p.relative_to(PACKAGE)))
def test_imports_point_downwards(module: Path) -> None:
    own = _first(module)
    assert own in RANK, f"{own} has no layer"
    for name in _imports(module):
        top, *rest = name.split(".")
        if top == "wizard" and rest and rest[0] in RANK:
            edge = (own, rest[0])
            if edge in DEFERRED or edge in TABLES_AND_CALC:
                continue
            assert RANK[rest[0]] <= RANK[own], f"{own} imports {name}"
        if top in SCREEN_ONLY:
            assert own == "tui", f"{own} imports {name}"
        if top in ("pydantic", "pydantic_core"):
            assert own in PYDANTIC, f"{own} imports {name}"


@pytest.mark.parametrize("words", [["--help"], ["calc", "--list"], ["items"], ["calc", "--help"]])
def test_commands_without_a_screen_load_no_textual(words: list[str]) -> None:
    code = (
        "import sys; from wizard.cli import main\n"
        "try: main(sys.argv[1:])\n"
        "except SystemExit: pass\n"
        "assert not {'textual', 'rich'} & set(sys.modules), 'a screen library was loaded'"
    )
    done = subprocess.run([sys.executable, "-c", code, *words], capture_output=True, text=True)
    assert done.returncode == 0, done.stderr


def test_a_check_after_the_first_loads_nothing_that_writes_and_no_models() -> None:
    demo = next((PACKAGE.parent / "demo_jobs").glob("*.toml"))
    code = (
        "import sys; from wizard.cli import main\n"
        f"main(['check', {str(demo)!r}])\n"
        "print(*[m for m in ('pydantic', 'tomli_w', 'textual', 'pint') if m in sys.modules])"
    )
    for _ in range(2):
        run = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True)
    *checked, loaded = run.stdout.splitlines()
    assert checked and loaded == ""
