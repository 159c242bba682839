"""The completion script of zsh.

Install it as a file named _wizard in a folder of $fpath, before compinit runs.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from shlex import quote

from wizard.commands.usage import Argument, Usage

_HEAD = """#compdef wizard
# zsh completion for wizard, made by: wizard completion zsh
_wizard_words() {
    local -a found
    found=(${(f)"$(wizard completion --words $1 $2 2>/dev/null)"})
    if [[ $found[1] == *= ]]; then compadd -S '' -- $found; else compadd -- $found; fi
}
"""


def script(top: Usage, commands: Sequence[Usage]) -> str:
    """The script, with what the usage says of each option beside it."""
    return "\n".join(_lines(top, commands)) + "\n"


def _lines(top: Usage, commands: Sequence[Usage]) -> Iterator[str]:
    yield _HEAD
    yield "_wizard_commands() {"
    yield "    local -a commands=("
    yield from (f"        {quote(f'{c.name}:{c.about}')}" for c in commands)
    yield "    )"
    yield "    _describe command commands"
    yield "}"
    yield "_wizard() {"
    yield "    local context state line"
    yield "    typeset -A opt_args"
    own = " ".join(quote(_option(o, f)) for o in top.options for f in o.flags)
    yield f"    _arguments -C {own} '1: :_wizard_commands' '*::word:->words'"
    yield "    [[ $state == words ]] || return"
    yield "    case $words[1] in"
    for usage in commands:
        specs = [quote(_option(o, f)) for o in usage.options for f in o.flags]
        specs += [quote(_word(w, n)) for n, w in enumerate(usage.words, 1)]
        yield f"        {usage.name}) _arguments {' '.join(specs)} ;;"
    yield "    esac"
    yield "}"
    yield 'if [[ $funcstack[1] == _wizard ]]; then _wizard "$@"; else compdef _wizard wizard; fi'


def _option(option: Argument, flag: str) -> str:
    value = f":{_plain(option.takes)}:{_offer(option)}" if option.takes else ""
    return f"{flag}[{_plain(option.about)}]{value}"


def _word(word: Argument, place: int) -> str:
    return f"{'*' if word.many else place}:{_plain(word.takes)}:{_offer(word)}"


def _plain(text: str) -> str:
    """Text that means nothing to _arguments."""
    return "".join(f"\\{c}" if c in "[]:\\" else c for c in text)


def _offer(argument: Argument) -> str:
    if argument.place == "choices":
        return f"({' '.join(argument.choices)})"
    if argument.place == "jobs":
        return '_files -g "*.toml"'
    if argument.place == "files":
        return "_files"
    if argument.place == "folders":
        return "_files -/"
    if argument.place in ("parameters", "missing", "tasks"):
        return f" _wizard_words {argument.place} $line[1]"
    return f" _wizard_words {argument.place}" if argument.place else " "
