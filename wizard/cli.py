"""The `wizard` command: reads the command line and opens a screen only where one is asked for.

Invariant: --help and the commands without a screen load no Textual.
"""

from __future__ import annotations

import argparse
import gc
import os
import sys
from collections.abc import Sequence
from contextlib import suppress
from functools import partial
from importlib import import_module
from typing import Any, NoReturn, TypeAlias

from wizard import __version__
from wizard.commands import lead, own
from wizard.commands.output import FAILED, UNREADABLE, USAGE, columns, narrate, settle
from wizard.errors import LockedElsewhere, Refused, WizardError
from wizard.text import show

EPILOG = """exit status: 0 good; 1 not finished or advisory only; 2 failed or held;
3 unreadable or bad input; 64 wrong usage.  stdout is data, stderr is narration."""

UNDONE = """A job that is not finished is no error: what is found is printed, and the exit status
is 1, as it is where advisories are left."""

LIGHT = (
    "screen",
    "calc",
    "settings",
    "self_check",
    "completion",
    "man",
    "guide",
    "practise",
)
"""Modules of commands that do without the procedure, or load it when they need it."""

LASTING = ("screen", "practise", "review")
"""Modules of commands that open a screen, or read any number of jobs."""

SELDOM = 50_000
"""Objects made between two looks for garbage; a start makes many, and nearly all stay."""


class Formatter(argparse.HelpFormatter):
    """As wide as the terminal, and found as `columns` finds it."""

    def __init__(self, prog: str) -> None:
        super().__init__(prog, width=columns() - 2)


class Parser(argparse.ArgumentParser):
    """A parser whose wrong usage exits with 64."""

    def __init__(self, **options: Any) -> None:
        super().__init__(formatter_class=Formatter, **options)

    def error(self, message: str) -> NoReturn:
        """Print the usage and one sentence."""
        self.print_usage(sys.stderr)
        self.exit(USAGE, f"{self.prog}: {message}\n")


class CommandParser(Parser):
    """The parser of one command: options may stand anywhere among its arguments."""

    _apart = False

    def parse_known_args(self, args: Any = None, namespace: Any = None) -> Any:
        """What the command line says; argparse itself ends a list at the first option."""
        if self._apart:
            return super().parse_known_args(args, namespace)
        self._apart = True
        try:
            return self.parse_known_intermixed_args(args, namespace)
        finally:
            self._apart = False


Commands: TypeAlias = "argparse._SubParsersAction[CommandParser]"


def parser(command: str = "") -> argparse.ArgumentParser:
    """The command line; for one command, only what is declared together with it."""
    top = Parser(
        prog="wizard",
        epilog=EPILOG,
        description=("Take a tank-mounted piston air compressor from the skid to the handover."),
    )
    top.add_argument("--version", action="version", version=f"wizard {__version__}")
    top.set_defaults(module="screen", command="start")
    top.set_defaults(by="", look=None, no_mouse=False)
    _screen_options(top)
    commands = top.add_subparsers(metavar="COMMAND", parser_class=CommandParser)
    add = partial(_add, commands)
    declared = {
        ("open", "new", "enter"): partial(_job_commands, add),
        ("prepare", "check", "items", "calc"): partial(_data_commands, add),
        ("practise",): partial(_practice_commands, add),
        lead.COMMANDS: partial(lead.declare, add, _screen_options),
    }
    for names, declare in declared.items():
        if command in names:
            declare()
            return top
    for declare in declared.values():
        declare()
    own.declare(add, top)
    return top


def _screen_options(command: argparse.ArgumentParser) -> None:
    """Options before the name of a command and after it; the last one given counts."""
    absent = argparse.SUPPRESS
    command.add_argument("--by", default=absent, metavar="NAME", help="who is working")
    command.add_argument(
        "--look",
        choices=("default", "contrast", "terminal"),
        default=absent,
        help="colours: default, high contrast, the terminal's own 16",
    )
    command.add_argument(
        "--no-mouse", action="store_true", default=absent, help="leave the mouse to the terminal"
    )


def _job_commands(add: lead.Add) -> None:
    opens = add("open", "screen", "work on a job")
    opens.add_argument("job", metavar="JOB", help="job file")
    opens.add_argument("--guided", action="store_true", help="guided training on this job")
    _screen_options(opens)
    new = add("new", "new", "start a job record")
    new.add_argument("id", metavar="ID", help="job number; the file is ID.toml")
    new.add_argument("--machine", metavar="FILE", help="plate data: a machine file or a job")
    new.add_argument("--units", choices=("us", "metric"), default=None, help="units of the job")
    new.add_argument("--folder", default=".", metavar="DIR", help="where the file is made")
    new.add_argument("--practice", choices=("US", "IEC"), default=None, help="electrical practice")
    new.add_argument("--open", action="store_true", help="open the screen on it")
    _screen_options(new)
    enter = add("enter", "enter", "answer items without a screen")
    enter.add_argument("job", metavar="JOB", help="job file")
    enter.add_argument(
        "answers",
        metavar="KEY=VALUE",
        nargs="*",
        help="KEY=@FILE.csv takes a logged series; none: one question at a time",
    )
    enter.add_argument("--by", default=argparse.SUPPRESS, metavar="NAME", help="who answers")
    enter.add_argument("--reason", default="", help="why an earlier answer is corrected")
    enter.add_argument("--instrument", default="", help="instrument used")
    enter.add_argument("--confirm", action="store_true", help="take unlikely values as typed")
    enter.add_argument(
        "--na",
        action="append",
        default=[],
        metavar="KEY=REASON",
        help="mark an item not applicable",
    )
    enter.add_argument(
        "--note",
        action="append",
        default=[],
        metavar="KEY=TEXT",
        help="write a note against an item",
    )
    enter.add_argument(
        "--unit", action="append", default=[], metavar="COLUMN=UNIT", help="unit of a CSV column"
    )


def _data_commands(add: lead.Add) -> None:
    prepare = add("prepare", "prepare", "print what to bring and what to expect")
    prepare.add_argument("job", metavar="JOB", help="job file")
    prepare.add_argument("--json", action="store_true", help="one JSON value")
    check = add("check", "check", "recompute a job and print what it finds")
    check.epilog = f"{UNDONE}  {EPILOG}"
    check.add_argument("jobs", metavar="JOB", nargs="+", help="job files")
    check.add_argument("--json", action="store_true", help="one JSON value")
    items = add("items", "items", "print the procedure")
    items.add_argument("--json", action="store_true", help="one JSON value, with explanations")
    calc = add("calc", "calc", "calculate outside a job")
    calc.add_argument("name", metavar="NAME", nargs="?", default="", help="none: list them")
    calc.add_argument("inputs", metavar="PARAM=VALUE", nargs="*", help="none: describe it")
    calc.add_argument("--list", action="store_true", help="print a calculation a line")
    calc.add_argument("--json", action="store_true", help="one JSON value")
    calc.add_argument(
        "--units", choices=("us", "metric"), default="us", help="units where none is typed"
    )


def _practice_commands(add: lead.Add) -> None:
    practise = add("practise", "practise", "practise on a simulated machine")
    practise.add_argument(
        "scenario", metavar="SCENARIO", nargs="?", default="", help="none: choose from the list"
    )
    practise.add_argument("--list", action="store_true", help="print a scenario a line")
    practise.add_argument("--seed", default="", metavar="N", help="the same machine again")
    practise.add_argument("--learner", default="", metavar="NAME", help="whose training record")
    practise.add_argument("--resume", action="store_true", help="go on where a run was left")
    _screen_options(practise)


def _add(
    commands: Commands,
    name: str,
    module: str,
    about: str,
) -> argparse.ArgumentParser:
    command = commands.add_parser(
        name, help=about, description=about.capitalize() + ".", epilog=EPILOG
    )
    command.set_defaults(module=module, command=name)
    return command


def main(argv: Sequence[str] | None = None) -> int:
    """Run the command; the result is the exit status."""
    settle()
    words = sys.argv[1:] if argv is None else argv
    args = parser(words[0] if words else "").parse_args(words)
    if args.module not in LASTING:
        gc.set_threshold(SELDOM)
    try:
        if args.module not in LIGHT:
            import_module("wizard.memo").warm_procedure()
        status: int = import_module(f"wizard.commands.{args.module}").run(args)
        if sys.stdout is not None:
            sys.stdout.flush()
    except (Refused, LockedElsewhere) as problem:
        narrate(str(problem))
        return FAILED
    except WizardError as problem:
        narrate(str(problem))
        return UNREADABLE
    except OSError as problem:
        return _unwritten(problem)
    except KeyboardInterrupt:
        return UNREADABLE
    return status


def _unwritten(problem: OSError) -> int:
    """Say what the system refused; stdout may be closed or full, so it takes nothing more."""
    with suppress(OSError, ValueError, AttributeError):
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
    if not isinstance(problem, BrokenPipeError):
        named = f"{show(problem.filename)}: " if problem.filename else ""
        narrate(f"{named}the system refused, {show(problem.strerror or problem).lower()}.")
    return UNREADABLE


if __name__ == "__main__":
    sys.exit(main())
