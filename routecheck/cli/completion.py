"""The command `routecheck completion`: what a shell needs to complete this command, made from the parsers."""

from __future__ import annotations

import shlex
from functools import cache
from typing import TYPE_CHECKING

from routecheck.cli.exit_codes import ExitCode
from routecheck.cli.parser import Parser
from routecheck.cli.printing import print_text
from routecheck.report.explanation import read_catalogue

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping, Sequence

    from routecheck.cli.parser import Argument

_EXAMPLES = """\
  routecheck completion bash >> ~/.bashrc
  routecheck completion zsh > ~/.zfunc/_routecheck     (a folder of fpath)
  routecheck completion fish > ~/.config/fish/completions/routecheck.fish"""


def main(arguments: Sequence[str]) -> ExitCode:
    """Write the completion of a shell."""
    from routecheck.cli.all_parsers import make_all_parsers

    shell = make_parser().read(arguments).shell
    parsers = {name: parser.list_arguments() for name, parser in make_all_parsers().items()}
    print_text("\n".join(_SHELLS[shell](parsers)) + "\n")
    return ExitCode.DONE


def make_parser() -> Parser:
    """Make the parser of this command."""
    parser = Parser("routecheck completion", "Write what a shell needs to complete this command.", _EXAMPLES)
    parser.add_argument("shell", choices=tuple(_SHELLS), help="the shell")
    return parser


def _list_words(arguments: Sequence[Argument], subcommands: Sequence[str]) -> list[str]:
    """What may stand next: subcommands, options, choices of arguments without a name."""
    words = [*subcommands, *(name for one in arguments for name in one.names)]
    return [*words, *(value for one in arguments if not one.names for value in _list_values(one))]


def _list_values(argument: Argument) -> tuple[str, ...]:
    if argument.metavar == "CHECK":
        return tuple(read_catalogue())
    if argument.metavar == "SHEET":
        return _list_sheets()
    named = argument.metavar.split("|") if argument.metavar.islower() and "|" in argument.metavar else ()
    return argument.choices or tuple(named)


@cache
def _list_sheets() -> tuple[str, ...]:
    """The Aircraft sheets that there are now, the user's own among them."""
    from routecheck.cli.loading import load_users_settings

    return tuple(sheet.name for sheet in load_users_settings(quiet=True).sheets)


def _subcommands(parsers: Mapping[str, object], command: str) -> list[str]:
    before = f"{command} " if command else ""
    inner = [name.removeprefix(before) for name in parsers if name.startswith(before) and name != command]
    return [name for name in inner if " " not in name]


def _write_cases(parsers: Mapping[str, Sequence[Argument]]) -> Iterator[str]:
    """The cases of a shell's `case "$command $option"`: the values of options, then the words of a command."""
    for command, arguments in parsers.items():
        for one in arguments:
            if one.names and one.takes_value:
                patterns = "|".join(f'"{command} {name}"' for name in one.names)
                values = _list_values(one)
                yield f"    {patterns}) words={_quote_lines(values)}{' files=' if values else ''} ;;"
    for command, arguments in sorted(parsers.items(), key=lambda item: -len(item[0])):
        words = _list_words(arguments, _subcommands(parsers, command))
        yield f'    "{command} "*) words={_quote_lines(words)} ;;'


def _quote_lines(words: Sequence[str]) -> str:
    """Words that may hold blanks as one word of a shell, a line each."""
    return shlex.quote("\n".join(words))


def _write_bash(parsers: Mapping[str, Sequence[Argument]]) -> Iterator[str]:
    names = "|".join(name for name in parsers if name and " " not in name)
    pairs = "|".join(f'"{name}"' for name in parsers if " " in name)
    yield from (
        "_routecheck() {",
        '  local before="${COMP_WORDS[COMP_CWORD-1]}" current="${COMP_WORDS[COMP_CWORD]}" first="${COMP_WORDS[1]}"',
        "  local command= words= word= files=yes",
        f'  if [ "$COMP_CWORD" -gt 1 ]; then case "$first" in {names}) command="$first" ;; esac; fi',
        '  if [ "$COMP_CWORD" -gt 2 ]; then',
        f'    case "$command ${{COMP_WORDS[2]}}" in {pairs}) command="$command ${{COMP_WORDS[2]}}" ;; esac',
        "  fi",
        '  case "$command $before" in',
        *_write_cases(parsers),
        "  esac",
        '  current="${current//\\\\/}"; current="${current#[\\"\\\']}"; COMPREPLY=()',
        "  while IFS= read -r word; do",
        '    case "$word" in ?*) case "$word" in "$current"*) COMPREPLY+=("$word") ;; esac ;; esac',
        '  done <<< "$words"',
        '  while [ "$files" ] && IFS= read -r word; do COMPREPLY+=("$word"); done < <(compgen -f -- "$current")',
        "}",
        "complete -o filenames -F _routecheck routecheck",
    )


def _write_zsh(parsers: Mapping[str, Sequence[Argument]]) -> Iterator[str]:
    names = "|".join(name for name in parsers if name and " " not in name)
    pairs = "|".join(f'"{name}"' for name in parsers if " " in name)
    yield from (
        "#compdef routecheck",
        "_routecheck() {",
        '  local command= files=yes before="${words[CURRENT-1]}" first="${words[2]}" second="${words[3]}" list=',
        f'  if (( CURRENT > 2 )); then case "$first" in {names}) command="$first" ;; esac; fi',
        f'  if (( CURRENT > 3 )); then case "$command $second" in {pairs}) command="$command $second" ;; esac; fi',
        '  case "$command $before" in',
        *(line.replace(" words=", " list=") for line in _write_cases(parsers)),
        "  esac",
        "  compadd -- ${(f)list}",
        "  [[ -z $files ]] || _files",
        "}",
        'if [ "$funcstack[1]" = "_routecheck" ]; then _routecheck; else compdef _routecheck routecheck; fi',
    )


def _write_fish(parsers: Mapping[str, Sequence[Argument]]) -> Iterator[str]:
    top = [name for name in parsers if name and " " not in name]
    for command, arguments in parsers.items():
        seen = [f"__fish_seen_subcommand_from {word}" for word in command.split()] or [
            f"not __fish_seen_subcommand_from {' '.join(top)}"
        ]
        line = f"complete -c routecheck -n {shlex.quote('; and '.join(seen))}"
        if subcommands := _subcommands(parsers, command):
            yield f"{line} -a {shlex.quote(' '.join(subcommands))}"
        for one in arguments:
            yield line + _describe_for_fish(one)


def _describe_for_fish(argument: Argument) -> str:
    names = "".join(f" -{'l' if name.startswith('--') else 's'} {name.lstrip('-')}" for name in argument.names)
    values = _list_values(argument)
    exclusive = " -x" if names and values else ""
    words = f"{exclusive} -a {shlex.quote(' '.join(map(_quote_for_fish, values)))}" if values else ""
    needs = " -r" if names and argument.takes_value and not values else ""
    return f"{names}{words}{needs} -d {shlex.quote(argument.help)}"


def _quote_for_fish(word: str) -> str:
    """A word of a list that fish takes apart; it escapes quotation marks by a backslash."""
    return word if word.replace("-", "").isalnum() else "'" + word.replace("\\", "\\\\").replace("'", "\\'") + "'"


_SHELLS = {"bash": _write_bash, "zsh": _write_zsh, "fish": _write_fish}
