"""A sheet as one self-contained page that prints on A4 and on Letter.

Invariant: no script, no link and nothing fetched; whatever text goes in is escaped.
"""

from __future__ import annotations

from collections.abc import Iterator
from html import escape
from importlib import resources

from wizard.finding import Verdict
from wizard.report.blocks import (
    Block,
    Bullets,
    Code,
    Facts,
    Ladder,
    Lines,
    Para,
    Plot,
    Section,
    Sheet,
    Table,
)
from wizard.report.svg import ladder_svg, plot_svg
from wizard.text import show

POLICY = "default-src 'none'; style-src 'unsafe-inline'"
_BAD = (Verdict.FAIL.value, Verdict.INCONCLUSIVE.value, "NOT GOOD")


def html(sheet: Sheet) -> str:
    """The page."""
    return "\n".join(_page(sheet)) + "\n"


def text(said: str) -> str:
    """Text as it stands in a page, also between quotes."""
    return escape(show(said), quote=True)


def _page(sheet: Sheet) -> Iterator[str]:
    style = resources.files(__package__).joinpath("sheet.css").read_text("utf-8")
    name = ", ".join((sheet.title, *sheet.about))
    yield "<!DOCTYPE html>"
    yield f'<html lang="{text(sheet.language)}">'
    yield '<head><meta charset="utf-8">'
    yield f'<meta http-equiv="Content-Security-Policy" content="{POLICY}">'
    yield '<meta name="viewport" content="width=device-width, initial-scale=1">'
    yield f"<title>{text(name)}</title>"
    yield f"<style>\n{style}</style></head>"
    yield "<body>"
    yield f"<header><h1>{text(sheet.title)}</h1>"
    for number, about in enumerate(sheet.about):
        yield f'<p class="{"machine" if number == 0 else "about"}">{text(about)}</p>'
    yield f'<p class="made">Written {text(sheet.made)}</p></header>'
    yield "<main>"
    for warning in sheet.warnings:
        yield f'<p class="warning">{text(warning)}</p>'
    for section in sheet.sections:
        yield from _section(section)
    yield "</main></body></html>"


def _section(section: Section) -> Iterator[str]:
    yield f"<section{' class=' + chr(34) + 'apart' + chr(34) if section.apart else ''}>"
    yield f"<h2>{text(section.title)}</h2>"
    for block in section.blocks:
        yield from _block(block)
    yield "</section>"


def _block(block: Block) -> Iterator[str]:
    match block:
        case Facts(pairs):
            rows = "".join(f"<tr><td>{text(n)}</td><td>{text(v)}</td></tr>" for n, v in pairs)
            yield f'<table class="facts"><tbody>{rows}</tbody></table>'
        case Table():
            yield from _table(block)
        case Para(said, strong):
            yield f"<p><strong>{text(said)}</strong></p>" if strong else f"<p>{text(said)}</p>"
        case Bullets(items):
            yield "<ul>" + "".join(f"<li>{text(item)}</li>" for item in items) + "</ul>"
        case Ladder():
            yield f"<figure>{ladder_svg(block)}</figure>"
        case Plot():
            yield f"<figure><figcaption>{text(block.title)}</figcaption>{plot_svg(block)}</figure>"
        case Lines(names):
            rows = "".join(
                f"<div><dt>{text(name)}</dt><dd>Signature</dd><dd>Date</dd></div>" for name in names
            )
            yield f'<dl class="lines">{rows}</dl>'
        case Code(lines):
            yield "<pre>" + "\n".join(map(text, lines)) + "</pre>"


def _table(table: Table) -> Iterator[str]:
    kinds = [name for name, so in (("small", table.small), ("two", table.columns > 1)) if so]
    yield f'<div class="{" ".join(["table", *kinds])}"><table>'
    if total := sum(table.widths):
        shares = (f'<col style="width:{100 * w / total:.1f}%">' for w in table.widths)
        yield f"<colgroup>{''.join(shares)}</colgroup>"
    if any(table.head):
        yield "<thead><tr>" + "".join(f"<th>{text(h)}</th>" for h in table.head) + "</tr></thead>"
    yield "<tbody>"
    for row in table.rows:
        if len(row) == 1 < len(table.head):
            yield f'<tr><th colspan="{len(table.head)}">{text(row[0])}</th></tr>'
        else:
            yield "<tr>" + "".join(map(_cell, row)) + "</tr>"
    yield "</tbody></table></div>"


def _cell(said: str) -> str:
    return (
        f'<td class="no">{text(said)}</td>' if said.startswith(_BAD) else f"<td>{text(said)}</td>"
    )
