"""The options of the lead's commands: review, remark, sign, report, visit."""

from __future__ import annotations

import argparse
from collections.abc import Callable

COMMANDS = ("review", "remark", "sign", "report", "visit")
FORMATS = ("md", "html", "txt", "ics")
SHOWN = ("statement", "signature")
SORTED = (
    "attention",
    "job",
    "machine",
    "site",
    "technician",
    "day",
    "state",
    "holds",
    "failures",
    "advisories",
    "open",
    "doubts",
)
ONLY = (
    "all",
    "attention",
    "held",
    "doubts",
    "damaged",
    "finished",
    "returned",
    "accepted",
    "practice",
    "training",
)
"""Orders and filters of the review, told here too because no table is loaded for a command line."""
Add = Callable[[str, str, str], argparse.ArgumentParser]


def declare(add: Add, screen_options: Callable[[argparse.ArgumentParser], None]) -> None:
    """Declare the commands; `add` takes name, module and what it does."""
    _review(add, screen_options)
    _remark(add)
    _sign(add)
    _report(add)
    _visit(add)


def _review(add: Add, screen_options: Callable[[argparse.ArgumentParser], None]) -> None:
    review = add("review", "review", "look over a folder of jobs, or at one of them")
    review.add_argument("folder", metavar="FOLDER", nargs="?", default=".", help="folder or job")
    how = review.add_mutually_exclusive_group()
    how.add_argument("--plain", action="store_true", help="a table in plain lines")
    how.add_argument("--json", action="store_true", help="one JSON value")
    how.add_argument("--jsonl", action="store_true", help="one JSON value a line, one line a job")
    how.add_argument("--csv", action="store_true", help="a table for a spreadsheet")
    review.add_argument(
        "--sort",
        choices=SORTED,
        default=SORTED[0],
        metavar="COLUMN",
        help=f"order of the rows: {', '.join(SORTED)}",
    )
    review.add_argument(
        "--only",
        choices=ONLY,
        default=ONLY[0],
        metavar="FILTER",
        help=f"rows to show: {', '.join(ONLY)}",
    )
    review.add_argument("--search", default="", metavar="TEXT", help="rows that contain a text")
    review.add_argument(
        "--compare", choices=("model", "site"), help="draw each job among the others"
    )
    review.add_argument(
        "--setting",
        action="append",
        default=[],
        metavar="NAME=VALUE",
        help="judge with this setting too, and show what it changes",
    )
    review.add_argument(
        "--forget",
        default="",
        metavar="FILE",
        help="miss a file no longer that was taken away; all: every one",
    )
    review.add_argument("--processes", type=int, default=0, metavar="N", help="0: one a processor")
    review.add_argument("--fresh", action="store_true", help="look at unchanged files again")
    screen_options(review)


def _remark(add: Add) -> None:
    remark = add("remark", "remark", "write remarks against items, or reply to them")
    remark.add_argument("job", metavar="JOB", help="job file")
    remark.add_argument(
        "remarks", metavar="KEY=TEXT", nargs="*", help="none: print the remarks; job=TEXT: the job"
    )
    remark.add_argument(
        "--reply",
        action="append",
        default=[],
        metavar="KEY=TEXT",
        help="reply to the remarks on an item",
    )
    remark.add_argument("--by", default="", metavar="NAME", help="who writes")
    remark.add_argument("--json", action="store_true", help="one JSON value")


def _sign(add: Add) -> None:
    sign = add("sign", "sign", "sign a record off in a role")
    sign.add_argument("job", metavar="JOB", help="job file")
    sign.add_argument("--role", default="", metavar="ROLE", help="technician, electrician, lead")
    sign.add_argument("--key", default="", metavar="FILE", help="SSH key; none: unsigned")
    sign.add_argument(
        "--as", dest="principal", default="", metavar="WHO", help="name in the list of allowed keys"
    )
    sign.add_argument(
        "--decision", default="", metavar="WORD", help="complete; of a lead accepted or returned"
    )
    sign.add_argument("--by", default="", metavar="NAME", help="who signs")
    sign.add_argument(
        "--show",
        choices=SHOWN,
        default="",
        help="sign nothing; print what was signed, or with what",
    )
    sign.add_argument(
        "--event", type=int, default=0, metavar="N", help="the sign-off to show; none: the last"
    )


def _report(add: Add) -> None:
    report = add("report", "report", "write the handover sheet or the maintenance calendar")
    report.add_argument("job", metavar="JOB", help="job file")
    report.add_argument(
        "--format", choices=FORMATS, default=None, help="from the name; text on a terminal, else md"
    )
    report.add_argument("-o", "--output", default="", metavar="FILE", help="none: print it")
    report.add_argument(
        "--units", choices=("us", "metric"), default=None, help="other units than the job has"
    )


def _visit(add: Add) -> None:
    visit = add("visit", "visit", "a recheck or a service after the handover")
    visit.add_argument("job", metavar="JOB", help="job file")
    visit.add_argument("answers", metavar="KEY=VALUE", nargs="*", help="what was looked at again")
    visit.add_argument("--start", default="", metavar="KIND", help="recheck or yearly")
    visit.add_argument("--did", action="append", default=[], metavar="TASK", help="task done")
    visit.add_argument(
        "--note", action="append", default=[], metavar="TEXT", help="a note on the visit"
    )
    visit.add_argument("--close", action="store_true", help="the visit is over")
    visit.add_argument("--by", default="", metavar="NAME", help="who is there")
    visit.add_argument(
        "--reason", default="", help="why an answer is corrected, or a visit closed unfinished"
    )
    visit.add_argument("--instrument", default="", help="instrument used")
    visit.add_argument("--confirm", action="store_true", help="take unlikely values as typed")
    visit.add_argument("--json", action="store_true", help="one JSON value")
