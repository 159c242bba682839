"""The formats of the sheet: hostile text stays text, nothing is fetched, pages are kept."""

from __future__ import annotations

import re
from html.parser import HTMLParser

import pytest

from tests.demo.fleet import finished
from tests.report.sheets import of
from tests.store.hostile import NASTY
from wizard.pictures.ladder import Rung
from wizard.report.blocks import (
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
from wizard.report.html import html
from wizard.report.md import escaped, markdown
from wizard.report.txt import WIDTH, text


def nasty() -> Sheet:
    """Every block with every nasty text in every place."""
    tags = ("<script>alert(1)</script>", '"onload="x', "| a | b |", "```", "# h")
    texts = (*NASTY, *tags)
    everything = " ".join(texts)
    blocks = (
        Facts(tuple((t, t) for t in texts)),
        Table((everything, "b"), tuple((t, t) for t in texts)),
        Table(("a", "b"), ((everything,),)),
        Para(everything, strong=True),
        Bullets(texts),
        Ladder(tuple(Rung(t, float(n + 1), t, n) for n, t in enumerate(texts))),
        Plot(everything, ((0.0, 1.0), (1.0, 2.0)), everything),
        Lines(texts),
        Code(texts),
    )
    sections = (Section(everything, blocks),)
    return Sheet(everything, (everything,), (everything,), sections, "now")


class Tags(HTMLParser):
    """Every tag and attribute of a page."""

    def __init__(self, page: str) -> None:
        super().__init__()
        self.found: list[tuple[str, dict[str, str | None]]] = []
        self.feed(page)

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.found.append((tag, dict(attrs)))


def test_a_page_holds_no_script_no_link_and_fetches_nothing() -> None:
    page = html(nasty())
    tags = Tags(page)
    allowed = {"html", "head", "meta", "title", "style", "body", "header", "main", "section"}
    allowed |= {"h1", "h2", "p", "strong", "div", "table", "colgroup", "col", "thead", "tbody"}
    allowed |= {"tr", "th", "td", "ul", "li", "figure", "figcaption", "pre", "dl", "dt", "dd"}
    allowed |= {"svg", "rect", "line", "text", "polyline", "circle"}
    assert {tag for tag, _ in tags.found} <= allowed
    for _, attributes in tags.found:
        assert not [n for n in attributes if n.startswith("on") or n in ("src", "href")]
    assert "default-src 'none'" in page
    style = page[page.index("<style>") : page.index("</style>")]
    assert "url(" not in style and "@import" not in style


@pytest.mark.parametrize("write", [html, markdown, text])
def test_no_control_or_invisible_character_gets_out(write: object) -> None:
    assert callable(write)
    for character in write(nasty()):
        assert character == "\n" or character.isprintable()
        assert character not in "\u202e\u200b\u2060\ufeff"


def test_markdown_shows_text_as_text() -> None:
    made = markdown(nasty())
    outside = re.sub(r"^(`{3,})text\n.*?^\1$", "", made, flags=re.DOTALL | re.MULTILINE)
    assert "<script>" not in outside and "\n# h" not in outside
    rows = [line for line in outside.splitlines() if line.startswith("|")]
    assert {len(re.findall(r"(?<!\\)\|", row)) for row in rows} == {3}


def test_markdown_escapes_nothing_that_means_nothing() -> None:
    made = markdown(of(finished("five_hp")))
    assert "\\-" not in made and "\\(" not in made and "\\=" not in made
    assert "| -20 °F |" in made and "| 2026-03-11 |" in made


@pytest.mark.parametrize(
    "said",
    [
        "# h",
        "- x",
        "+ x",
        "> q",
        "1. x",
        "===",
        "--",
        "*a*",
        "_a_",
        "`a`",
        "[a](b)",
        "![a](b)",
        "<b>",
        "&lt;",
        "~~a~~",
        "$a$",
        "a\\",
        "  # h",
        "h #",
    ],
)
def test_markdown_of_hostile_text_reads_as_that_text(said: str) -> None:
    from markdown_it import MarkdownIt

    parser = MarkdownIt("gfm-like", {"linkify": False})
    for before in ("", "# ", "- "):
        (inline,) = (t for t in parser.parse(before + escaped(said)) if t.type == "inline")
        kinds = {"paragraph_open", "inline", "paragraph_close", "heading_open", "heading_close"}
        kinds |= {"bullet_list_open", "list_item_open", "list_item_close", "bullet_list_close"}
        tokens = parser.parse(before + escaped(said))
        assert {t.type for t in tokens} <= kinds
        assert sum(t.type.endswith("_open") for t in tokens) == (3 if before == "- " else 1)
        assert [t for t in inline.children or () if t.type not in ("text", "text_special")] == []
        assert "".join(t.content for t in inline.children or ()) == said.strip()


def test_plain_text_is_no_wider_than_the_page() -> None:
    commands = [f"    {line}" for line in ("wizard", "ssh-keygen")]
    rows = text(of(finished("fifteen_hp"))).splitlines()
    assert max(len(row) for row in rows if not row.startswith(tuple(commands))) <= WIDTH
