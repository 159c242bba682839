"""The completion script of fish.

Install it for one person as ~/.config/fish/completions/wizard.fish.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from wizard.commands.usage import Argument, Usage

_HEAD = """# fish completion for wizard, made by: wizard completion fish
function __wizard_words_before
    set -l skip no
    for word in (commandline -opc)[2..-1]
        if test $skip = yes
            set skip no
        else if contains -- $word {valued}
            set skip yes
        else if not string match -q -- '-*' $word
            echo $word
        end
    end
end
function __wizard_at_start
    test (count (__wizard_words_before)) -eq 0
end
function __wizard_at
    set -l before (__wizard_words_before)
    test (count $before) -gt 0; and test $before[1] = $argv[1]; or return 1
    test (count $before) -eq (math $argv[2] + 1); and return 0
    test "$argv[3]" = more; and test (count $before) -gt $argv[2]
end
function __wizard_words
    set -l before (__wizard_words_before)
    wizard completion --words $argv[1] $before[2] 2>/dev/null
end
complete -c wizard -f
"""


def script(top: Usage, commands: Sequence[Usage]) -> str:
    """The script, with what the usage says of each command and option beside it."""
    return "\n".join(_lines(top, commands)) + "\n"


def _lines(top: Usage, commands: Sequence[Usage]) -> Iterator[str]:
    valued = [f for u in (top, *commands) for o in u.options if o.takes for f in o.flags]
    yield _HEAD.replace("{valued}", " ".join(dict.fromkeys(valued))).rstrip("\n")
    first = "-n __wizard_at_start"
    yield from (f"complete -c wizard {first} {_option(o)}" for o in top.options)
    for usage in commands:
        yield f"complete -c wizard {first} -a {usage.name} -d {_quoted(usage.about)}"
        seen = f"-n {_quoted(f'__fish_seen_subcommand_from {usage.name}')}"
        yield from (f"complete -c wizard {seen} {_option(o)}" for o in usage.options)
        for place, word in enumerate(usage.words):
            if offer := _offer(word):
                here = f"__wizard_at {usage.name} {place}{' more' if word.many else ''}"
                yield f"complete -c wizard -n {_quoted(here)} {offer}"


def _option(option: Argument) -> str:
    flags = " ".join(f"-l {f[2:]}" if f.startswith("--") else f"-s {f[1:]}" for f in option.flags)
    value = f" -x {_offer(option)}" if option.takes and option.place != "files" else ""
    if option.place == "files":
        value = " -r -F"
    return f"{flags} -d {_quoted(option.about)}{value}".rstrip()


def _quoted(text: str) -> str:
    escaped = text.replace("\\", "\\\\").replace("'", "\\'")
    return f"'{escaped}'"


def _offer(argument: Argument) -> str:
    if argument.place == "choices":
        return f"-a {_quoted(' '.join(argument.choices))}"
    if argument.place == "jobs":
        return "-k -a '(__fish_complete_suffix .toml)'"
    if argument.place == "files":
        return "-F"
    if argument.place == "folders":
        return "-a '(__fish_complete_directories)'"
    return f"-a '(__wizard_words {argument.place})'" if argument.place else ""
