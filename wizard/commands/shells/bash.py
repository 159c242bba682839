"""The completion script of bash.

Install it for one person as ~/.local/share/bash-completion/completions/wizard.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from shlex import quote

from wizard.commands.usage import Argument, Usage

_HEAD = """# bash completion for wizard, made by: wizard completion bash
_wizard_words() {
    local IFS=$'\\n'
    COMPREPLY=($(compgen -W "$(wizard completion --words "$1" "$2" 2>/dev/null)" -- "$cur"))
    [[ ${COMPREPLY[0]} == *= ]] && compopt -o nospace
}
_wizard_paths() {
    local IFS=$'\\n'
    compopt -o filenames
    case $1 in
        jobs) COMPREPLY=($(compgen -d -- "$cur") $(compgen -f -X '!*.toml' -- "$cur")) ;;
        files) COMPREPLY=($(compgen -f -- "$cur")) ;;
        folders) COMPREPLY=($(compgen -d -- "$cur")) ;;
    esac
}
_wizard_choices() { COMPREPLY=($(compgen -W "$1" -- "$cur")); }
_wizard() {
    local cur=${COMP_WORDS[COMP_CWORD]} prev=${COMP_WORDS[COMP_CWORD-1]} command= n=0 name= i word
    COMPREPLY=()
    for ((i = 1; i < COMP_CWORD; i++)); do
        word=${COMP_WORDS[i]}
        if [[ $word == = || ${COMP_WORDS[i-1]} == = ]]; then continue; fi
"""


def script(top: Usage, commands: Sequence[Usage]) -> str:
    """The script; words stand where the usage has them, an option's value after the option."""
    return "\n".join(_lines(top, commands)) + "\n"


def _lines(top: Usage, commands: Sequence[Usage]) -> Iterator[str]:
    yield _HEAD.rstrip("\n")
    yield f"        case ${{COMP_WORDS[i-1]}} in {_valued((top, *commands))}) continue ;; esac"
    yield "        [[ $word == -* ]] && continue"
    yield "        if [[ -z $command ]]; then command=$word"
    yield "        else ((++n)); [[ $n == 1 ]] && name=$word; fi"
    yield "    done"
    yield "    if [[ $cur == = || $prev == = ]]; then return; fi"
    yield "    case $command:$prev in"
    for usage in (top, *commands):
        yield from _values(usage)
    yield "    esac"
    yield "    if [[ $cur == -* ]]; then"
    yield "        case $command in"
    for usage in (top, *commands):
        flags = " ".join(f for o in usage.options for f in o.flags)
        yield f"            {usage.name or quote('')}) _wizard_choices {quote(flags)} ;;"
    yield "        esac"
    yield "        return"
    yield "    fi"
    yield "    case $command:$n in"
    yield f"        :0) _wizard_choices {quote(' '.join(c.name for c in commands))} ;;"
    for usage in commands:
        yield from _words(usage)
    yield "    esac"
    yield "}"
    yield "complete -F _wizard wizard"


def _valued(usages: Sequence[Usage]) -> str:
    """The flags that a value follows, as a pattern."""
    flags = [f for u in usages for o in u.options if o.takes for f in o.flags]
    return "|".join(dict.fromkeys(flags))


def _values(usage: Usage) -> Iterator[str]:
    for option in usage.options:
        if option.takes:
            patterns = "|".join(f"{usage.name}:{flag}" for flag in option.flags)
            yield f"        {patterns}) {_offer(option)}return ;;"


def _words(usage: Usage) -> Iterator[str]:
    for place, argument in enumerate(usage.words):
        if offer := _offer(argument):
            yield f"        {usage.name}:{'*' if argument.many else place}) {offer};;"


def _offer(argument: Argument) -> str:
    if argument.place == "choices":
        return f"_wizard_choices {quote(' '.join(argument.choices))}; "
    if argument.place in ("jobs", "files", "folders"):
        return f"_wizard_paths {argument.place}; "
    if argument.place:
        return f'_wizard_words {argument.place} "$name"; '
    return ""
