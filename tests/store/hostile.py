"""Files that somebody made to hurt whoever reads them."""

from __future__ import annotations

from collections.abc import Iterator

from tests.small import START_TIME, new_job
from tests.test_job import full
from tests.test_record import sealed
from wizard.job import Act, Event
from wizard.record import dumps

NASTY = (
    "\x1b[31m",
    "\x1b]0;title\x07",
    "\x1b]52;c;aGk=\x07",
    "\x9b2J",
    "\u202eevil",
    "zero\u200bwidth\u2060\ufeff",
    "\U000e0041",
    "\x7f\x00\x08",
    "[/]",
    "[bold red]PASS[/]",
    "[link=file:///etc/passwd]x[/link]",
    ":skull:",
    "=1+1",
    "é e\u0301 ﷽ 中文",
    "line\nbreak\r\ttab",
    "\u3164\u115f",
)
"""Texts that a terminal, a spreadsheet or an eye could be fooled by."""

TEXT = dumps(full(), 3).decode()
HEAD, BODY = TEXT.partition("[job]")[0], "[job]" + TEXT.partition("[job]")[2]


def _top(line: str) -> bytes:
    """The record with one more line at its top."""
    return sealed(f"{HEAD.rstrip()}\n{line}\n\n{BODY}")


def _value(value: str) -> bytes:
    """The record with another value in an answer and its event."""
    return sealed(TEXT.replace("value = 230.0", f"value = {value}"))


def endless() -> Iterator[tuple[str, bytes]]:
    """What would keep a parser busy for very long, or break its stack."""
    yield "dotted key", _top("a." * 20_000 + "a = 1")
    yield "dotted key in 40 kB without a seal", HEAD.encode() + b"a." * 20_000 + b"a = 1\n"
    yield "quoted dotted key", _top('"=[".' * 5_000 + "a = 1")
    yield "dotted key after an apostrophe", _top("a = 'x' # \"\n" + "b." * 20_000 + "b = 1")
    yield "dotted table", _top("[" + "a." * 20_000 + "a]")
    yield "dotted key in an inline table", _top("x = { " + "a." * 20_000 + "a = 1 }")
    yield "dotted keys of 900 parts", _top("\n".join(f"k{n}." + "a." * 900 for n in range(300)))
    yield "nested arrays", _top("x = " + "[" * 1000 + "]" * 1000)
    yield "nested inline tables", _top("x = " + "{a=" * 1000 + "1" + "}" * 1000)
    yield "nested and never closed", _top("x = " + "[" * 100_000)
    yield "hidden in a text of many lines", _top('x = """\n' + "a." * 20_000 + '\n"""')
    yield "hex number", _top("x = 0x" + "f" * 1_000_000)
    yield "more bytes than a job has", _top('x = "' + "A" * 10_000_000 + '"')
    yield "100,000 tables", _top("[[x]]\n" * 100_000)


def unsound() -> Iterator[tuple[str, bytes]]:
    """What a parser takes, but no job holds."""
    yield "decimal number", _top("x = " + "9" * 100_000)
    yield "infinite", _value("1e999")
    yield "not a number", _value("nan")
    yield "huge count", _value(str(10**4000))
    yield "a surrogate", _value('"\\ud800"')
    yield "a naive time", sealed(TEXT.replace("+00:00\nby", "\nby"))
    yield "a date for a time", sealed(TEXT.replace(" 08:00:00+00:00\nby", "\nby"))
    yield "long text", sealed(TEXT.replace('"Tess Tester"', f'"{"T" * 100_000}"'))
    yield "too many events", sealed(TEXT.replace("\n[seal]", _rows("events", 10_001)))
    yield (
        "too many answers",
        sealed(TEXT.replace("\n[[events]]", _rows("answers", 2_001) + "\n[[events]]", 1)),
    )
    yield "a million entries", sealed(TEXT.replace("raw = ", f"x = [{'{},' * 600_000}]\nraw = ", 1))
    yield "job in a list", sealed(TEXT.replace("[job]", "[[job]]"))
    yield "events in a table", sealed(TEXT.replace("[[events]]", "[events]", 1))
    yield "the same key twice", _top("revision = 3")
    yield "another id", sealed(TEXT.replace('id = "T1"', 'id = "../T1"'))
    yield "an id with a line end", sealed(TEXT.replace('id = "T1"', 'id = "T1\\n"'))
    yield "an uuid in capitals", sealed(TEXT.replace("0" * 32, "A" * 32))
    yield "an instrument with a will of its own", sealed(_with_instrument("__class__ = 1"))
    yield "an instrument without a name", sealed(_with_instrument('kind = "gauge"'))
    for number in range(256):
        yield f"one byte {number}", bytes([number])


def _rows(table: str, number: int) -> str:
    return "\n" + f"[[{table}]]\nseq = 1\n" * number + "\n[seal]" * (table == "events")


def _with_instrument(data: str) -> str:
    event = Event(1, Act.INSTRUMENT, START_TIME, "Tess", "", {"name": "G", "kind": "gauge"})
    text = dumps(new_job().apply(event), 1).decode()
    before, mark, after = text.partition("[[events]]")
    return before + mark + after.replace('name = "G"\nkind = "gauge"', data, 1)
