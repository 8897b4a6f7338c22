"""Completion and the manual page, which are made from the parsers, and the list of settings."""

import json
import os
import re
import shutil
import subprocess

import pytest

from routecheck.checks.catalogue import bounds, collect
from routecheck.cli.all_parsers import make_all_parsers
from routecheck.settings import save_limits

PARSERS = make_all_parsers()


def completed(script, *words):
    """What bash offers at the end of a command line."""
    quoted = " ".join(f"'{word}'" for word in words)
    ask = f'COMP_WORDS=({quoted}); COMP_CWORD={len(words) - 1}; _routecheck; printf "%s\\n" "${{COMPREPLY[@]}}"'
    done = subprocess.run(
        ["bash", "--norc", "-c", f"{script}\n{ask}"], capture_output=True, text=True, timeout=20, check=False
    )
    assert done.stderr == ""
    return done.stdout.splitlines()


@pytest.mark.skipif(not shutil.which("bash"), reason="bash is not installed")
@pytest.mark.parametrize(
    ("words", "offered"),
    [
        (("routecheck", "pro"), {"proof"}),
        (("routecheck", "--ver"), {"--version"}),
        (("routecheck", "proof", "--fail"), {"--fail-on"}),
        (("routecheck", "proof", "--format", ""), {"text", "jsonl", "csv"}),
        (("routecheck", "proof", "--role", "f"), {"filed"}),
        (("routecheck", "proof", "--only", "dogl"), {"dogleg"}),
        (("routecheck", "explain", "zig"), {"zigzag"}),
        (("routecheck", "navdata", ""), {"add", "list", "remove"}),
        (("routecheck", "navdata", "add", "--rep"), {"--replace"}),
        (("routecheck", "completion", "fi"), {"fish"}),
        (("routecheck", "proof", "--aircraft-sheet", "Medium\\ j"), {"Medium jet"}),
    ],
)
def test_bash_completes_commands_options_and_values(command, tmp_path, monkeypatch, words, offered):
    _, script, _ = command("completion", "bash")
    monkeypatch.chdir(tmp_path)
    assert offered <= set(completed(script, *words))
    if words[-1]:
        assert set(completed(script, *words)) == offered


@pytest.mark.parametrize("shell", ["bash", "zsh", "fish"])
def test_every_option_of_every_command_is_in_the_completion(command, shell):
    code, script, _ = command("completion", shell)
    assert code == 0
    for parser in PARSERS.values():
        for argument in parser.list_arguments():
            for name in argument.names:
                option = f"-{'l' if name.startswith('--') else 's'} {name.lstrip('-')}" if shell == "fish" else name
                assert option in script


@pytest.mark.parametrize("shell", ["zsh", "fish"])
def test_the_shell_understands_its_completion(command, shell):
    if not shutil.which(shell):
        pytest.skip(f"{shell} is not installed")
    _, script, _ = command("completion", shell)
    done = subprocess.run([shell, "-n"], input=script, capture_output=True, text=True, timeout=20, check=False)
    assert (done.returncode, done.stderr) == (0, "")


@pytest.mark.skipif(not shutil.which("fish"), reason="fish is not installed")
def test_fish_completes_commands_options_and_values(command, tmp_path):
    _, script, _ = command("completion", "fish")
    asks = [
        "routecheck pro",
        "routecheck proof --off",
        "routecheck proof --aircraft-sheet Medium",
        "routecheck known r",
    ]
    done = subprocess.run(
        ["fish", "--no-config", "-c", f"{script}\n" + "\n".join(f"complete -C '{ask}'" for ask in asks)],
        capture_output=True, text=True, timeout=20, check=False, cwd=tmp_path,
        env={**os.environ, "HOME": str(tmp_path)},
    )  # fmt: skip
    offered = [line.split("\t")[0] for line in done.stdout.splitlines()]
    assert (offered, done.stderr) == (["proof", "--off-block", "Medium jet", "remove"], "")


def test_the_manual_has_every_command_option_and_example(command):
    code, page, _ = command("manual")
    text = page.replace("\\-", "-").replace("\\e", "\\").replace("\\&", "")
    assert code == 0
    assert page.startswith(".TH ROUTECHECK 1 ")
    for name, parser in PARSERS.items():
        assert f".SH ROUTECHECK {name.upper()}".rstrip() in text
        for argument in parser.list_arguments():
            assert ", ".join(argument.names) in text
        assert parser.epilog.strip().splitlines()[-1].strip() in text
    assert "EXIT STATUS" in page
    known = re.compile(r"\.(TH|SH|PP|TP|nf|fi|B)\b")
    assert all(known.match(line) for line in page.splitlines() if line.startswith((".", "'")))


def test_every_option_has_a_help():
    silent = [
        f"{name} {argument.names or argument.metavar}"
        for name, parser in PARSERS.items()
        for argument in parser.list_arguments()
        if not argument.help
    ]
    assert silent == []


def test_settings_lists_sheets_limits_and_folders(command, tmp_path):
    check = next(one for one in collect() if one.name == "dogleg")
    limit = check.limits[0]
    save_limits({check.name: {limit.name: limit.default + 1}}, bounds(collect()))
    _, out, _ = command("settings")
    assert "Medium jet" in out
    assert f"dogleg: {limit.name} = {limit.default + 1:g} {limit.unit}   changed; {limit.default:g} as shipped" in out
    assert str(tmp_path / "home" / "xdg_config_home" / "routecheck") in out
    _, out, _ = command("settings", "--format", "json")
    found = json.loads(out)
    assert len(found["limits"]) == sum(len(one.limits) for one in collect())
    assert {"check": "dogleg", "name": limit.name, "value": limit.default + 1} in [
        {key: one[key] for key in ("check", "name", "value")} for one in found["limits"]
    ]
    assert found["not_used"] == []
