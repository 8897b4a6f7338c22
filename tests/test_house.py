"""House rules: sizes, the fixed top level, what is packaged, what no file may say, and who may import whom."""

import ast
import functools
import pathlib
import re
import shutil
import statistics
import subprocess
import sys
import tomllib

import pytest

ROOT = pathlib.Path(__file__).resolve().parents[1]
TOP_LEVEL = {"README.md", "DEVELOPERS.md", "pyproject.toml", "routecheck", "resources", "sample_routes", "tests"}
HIDDEN = {".ci", ".gitignore"}
LEFT_BY_TOOLS = re.compile(
    r"\.git|\.venv|__pycache__|build|dist|\.\w+_cache|\.hypothesis|\.benchmarks|\.coverage|.*\.egg-info"
)
TEXT = {".py", ".md", ".toml", ".txt", ".json", ".yml", ".yaml", ".sh", ".csv", ".html", ".svg", ""}
# Written apart, so that this file does not say what it forbids.
MACHINE = re.compile(
    "|".join(
        [
            r"(?<![\w./~-])/(?:home|Users|root)" + r"/\w",
            r"(?<![\w./~-])/(?:work|tmp)" + r"/",
            r"[A-Z]:\\" + r"Users\\",
            r"\b(?:pypi|npmjs|pythonhosted|npmmirror)" + r"\.(?:org|com)\b",
            r"\b(?:registry|artifactory|nexus|pkgs?)" + r"\.[\w-]+\.[a-z]{2,}\b",
            r"\b(?:index-url|extra-index-url)" + r"[ =]+http",
        ]
    )
)
# Documents that are not in the repository: nobody who has only this can look them up.
ELSEWHERE = re.compile(
    "|".join(
        [
            r"\b\d{1,2}-(?:job|words|house|checks|values|desk|measures|arinc424|trial|interface|plain-names)" + r"\b",
            r"\b\d{1,2}-(?:known-routes|open-data|found)" + r"\b",
            r"\bpart \d{1,2}[a-c]?" + r"\b",
            r"\bissue" + r" #?\d",
            r"\bthe " + r"specification\b",
        ]
    )
)


def tracked():
    """What git tracks; where git cannot say, every file that no tool left behind."""
    if (ROOT / ".git").exists() and shutil.which("git"):
        listed = subprocess.run(["git", "ls-files", "-z"], cwd=ROOT, capture_output=True, text=True, check=False)
        if listed.returncode == 0:
            return [path for name in listed.stdout.split("\0") if name and (path := ROOT / name).is_file()]
    return walked()


def walked():
    files = (path for path in ROOT.rglob("*") if path.is_file())
    return [p for p in files if not any(LEFT_BY_TOOLS.fullmatch(part) for part in p.relative_to(ROOT).parts)]


def told(path):
    return str(path.relative_to(ROOT))


SOURCES = sorted((ROOT / "routecheck").rglob("*.py"))
TESTS = sorted((ROOT / "tests").rglob("*.py"))


@functools.cache
def parse(path):
    return ast.parse(path.read_text("utf-8"))


@functools.cache
def nodes(path):
    return tuple(ast.walk(parse(path)))


@pytest.fixture(scope="module", autouse=True)
def trees_end_with_these_tests():
    yield
    nodes.cache_clear()
    parse.cache_clear()


def functions(paths=SOURCES):
    for path in paths:
        for node in nodes(path):
            if isinstance(node, ast.FunctionDef | ast.AsyncFunctionDef):
                yield f"{told(path)}:{node.lineno} {node.name}", node


def length(node):
    """Lines from `def` to the end, without the docstring: what has to be followed, not what explains it."""
    first = node.body[0]
    documented = (
        isinstance(first, ast.Expr) and isinstance(first.value, ast.Constant) and isinstance(first.value.value, str)
    )
    return node.end_lineno - node.lineno + 1 - (first.end_lineno - first.lineno + 1 if documented else 0)


# --- sizes ----------------------------------------------------------------------------------------------------------


@pytest.mark.parametrize("paths", [SOURCES, TESTS], ids=["routecheck", "tests"])
def test_no_file_is_long(paths):
    long = {told(p): n for p in paths if (n := len(p.read_text("utf-8").splitlines())) > 400}
    assert paths
    assert not long


@pytest.mark.parametrize("paths", [SOURCES, TESTS], ids=["routecheck", "tests"])
def test_no_function_is_long(paths):
    """Fifty lines, docstring and all."""
    assert {name: n for name, node in functions(paths) if (n := node.end_lineno - node.lineno + 1) > 50} == {}


def test_most_functions_are_short():
    """`pytest -rP tests/test_house.py` shows what is printed."""
    lengths = [length(node) for _, node in functions()]
    median = statistics.median(lengths)
    print(f"{len(lengths)} functions, median {median:g} lines, longest {max(lengths)}")
    assert median <= 7


def test_no_conditional_stands_within_another():
    """Two conditionals in one expression are one too many."""
    within = [
        f"{told(path)}:{node.lineno}"
        for path in SOURCES
        for node in nodes(path)
        if isinstance(node, ast.IfExp) and sum(isinstance(inner, ast.IfExp) for inner in ast.walk(node)) > 1
    ]
    assert within == []


def test_no_comprehension_has_three_loops():
    loops = ast.ListComp | ast.SetComp | ast.DictComp | ast.GeneratorExp
    found = [(told(path), node) for path in SOURCES for node in nodes(path) if isinstance(node, loops)]
    assert [f"{name}:{node.lineno}" for name, node in found if len(node.generators) > 2] == []


def test_every_module_says_what_lives_there():
    silent = [told(p) for p in SOURCES if not ast.get_docstring(parse(p))]
    assert silent == []


def fields_by_place(kind: ast.ClassDef) -> tuple[list[str], list[str]]:
    """The fields of a dataclass that its constructor takes, and those of them that it takes by their place."""
    own = [line for line in kind.body if isinstance(line, ast.AnnAssign)]
    names = [ast.unparse(line.target) for line in own if "init=False" not in ast.unparse(line)]
    if any("kw_only=True" in ast.unparse(one) for one in kind.decorator_list):
        return names, []
    return [name for name in names if name != "_"], names[: names.index("_")] if "_" in names else names


def test_from_six_fields_on_the_later_ones_are_given_by_keyword():
    kinds = [
        kind
        for path in SOURCES
        for kind in nodes(path)
        if isinstance(kind, ast.ClassDef) and any("dataclass" in ast.unparse(one) for one in kind.decorator_list)
    ]
    assert len(kinds) > 100
    taken = {kind.name: fields_by_place(kind) for kind in kinds}
    offenders = {name: by_place for name, (own, by_place) in taken.items() if len(own) > 5 and len(by_place) > 4}
    assert offenders == {}


def test_values_that_are_frozen_are_made_the_quick_way():
    """A module with dataclasses that can be changed takes the standard decorator, for those beside them too."""

    def made_by_the_standard(path):
        kinds = [node for node in nodes(path) if isinstance(node, ast.ClassDef)]
        made = [ast.unparse(one) for kind in kinds for one in kind.decorator_list]
        made = [one for one in made if one.startswith("dataclass")]
        imports = [node for node in nodes(path) if isinstance(node, ast.ImportFrom) and node.module == "dataclasses"]
        is_standard = any(name.name == "dataclass" for node in imports for name in node.names)
        return is_standard and bool(made) and all("frozen=True" in one for one in made)

    assert [told(path) for path in SOURCES if made_by_the_standard(path)] == []


# --- what is where --------------------------------------------------------------------------------------------------


def test_the_walk_sees_all_that_git_tracks():
    """Outside a checkout the rules below are held against the walk: it must not miss a file."""
    assert set(tracked()) <= set(walked())


def test_the_top_level_is_fixed():
    tops = {path.relative_to(ROOT).parts[0] for path in tracked()}
    assert tops <= TOP_LEVEL | HIDDEN
    assert tops >= TOP_LEVEL


def test_nothing_else_lies_at_the_top():
    stray = [p.name for p in ROOT.iterdir() if p.name not in TOP_LEVEL | HIDDEN and not LEFT_BY_TOOLS.fullmatch(p.name)]
    assert stray == []


def test_every_package_is_listed():
    """A sub-package that pyproject.toml does not list is missing from the wheel, and only there."""
    listed = tomllib.loads((ROOT / "pyproject.toml").read_text("utf-8"))["tool"]["setuptools"]["packages"]
    folders = [p.parent.relative_to(ROOT) for p in (ROOT / "routecheck").rglob("__init__.py")]
    there = [".".join(folder.parts) for folder in folders] + ["routecheck.resources", "routecheck.sample_routes"]
    assert sorted(listed) == sorted(there)


def test_every_folder_of_code_is_a_package():
    bare = {told(p.parent) for p in SOURCES if not (p.parent / "__init__.py").is_file()}
    assert bare == set()


def test_there_is_no_lock_file():
    assert not list(ROOT.glob("*.lock"))
    assert [told(p) for p in tracked() if p.suffix == ".lock"] == []


def test_every_shipped_data_file_has_its_provenance():
    page = (ROOT / "resources" / "PROVENANCE.md").read_text("utf-8")
    named = re.findall(r"`([\w*./-]+)`", page)
    data = [p.relative_to(ROOT / "resources") for p in tracked() if p.is_relative_to(ROOT / "resources")]
    untold = [str(p) for p in data if p.suffix not in {".py", ".md"} and not any(p.match(name) for name in named)]
    assert untold == []


# --- what no file may say -------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    "line",
    [
        "open('/" + "home/anna/x')",
        "see /" + "work/main",
        "/" + "tmp/a",
        "C:\\" + "Users\\x",
        "https://pypi" + ".org/simple",
        "registry" + ".npm" + "js.org",
        "--index-url" + " https://x",
    ],
)
def test_the_pattern_finds_what_it_looks_for(line):
    assert MACHINE.search(line)


@pytest.mark.parametrize("line", ["sample_routes/work/x", "Item 15/tmp", "../work/x", "NM/tmp", "package registry"])
def test_the_pattern_leaves_the_rest_alone(line):
    assert not MACHINE.search(line)


@pytest.mark.parametrize(
    "line", ["5-" + "values E.3", "as 8-" + "arinc424.md says", "see part" + " 7b", "issue" + " 12"]
)
def test_the_pattern_finds_documents_that_are_elsewhere(line):
    assert ELSEWHERE.search(line)


@pytest.mark.parametrize("line", ["Doc 8168, Part I", "part of 3 files", "a 5-letter name", "4 checks", "AIM 5-2-9"])
def test_that_pattern_leaves_the_rest_alone(line):
    assert not ELSEWHERE.search(line)


def lines_with(pattern):
    return [
        f"{told(path)}:{number}: {line.strip()[:80]}"
        for path in tracked()
        if path.suffix in TEXT
        for number, line in enumerate(path.read_text("utf-8").splitlines(), start=1)
        if pattern.search(line)
    ]


def test_no_file_names_a_machine_or_a_registry():
    assert lines_with(MACHINE) == []


def test_no_file_names_a_document_that_is_not_here():
    """A source is named by title, edition and section, or as from memory, or as our own choice."""
    assert lines_with(ELSEWHERE) == []


# --- what tests reach for -------------------------------------------------------------------------------------------


def private_uses(found):
    """Private names of the package that are imported or patched; attributes are for ruff's SLF to find."""
    for node in found:
        names = []
        if isinstance(node, ast.ImportFrom) and (node.module or "").partition(".")[0] == "routecheck":
            names = [*node.module.split("."), *(alias.name for alias in node.names)]
        elif isinstance(node, ast.Call) and getattr(node.func, "attr", "") in {"setattr", "delattr"}:
            texts = [a.value for a in node.args[:2] if isinstance(a, ast.Constant) and isinstance(a.value, str)]
            names = [name for dotted in texts for name in dotted.split(".")]
        yield from (f"{node.lineno}: {name}" for name in names if re.match(r"_[a-zA-Z]", name))


@pytest.mark.parametrize(
    "line",
    ["from routecheck.x import _y", "from routecheck._x import y", "p.setattr(m, '_y', 1)", "p.setattr('m._y', 1)"],
)
def test_private_uses_are_seen(line):
    assert list(private_uses(ast.walk(ast.parse(line))))


@pytest.mark.parametrize("line", ["from routecheck.x import y", "from x import _y", "p.setattr(m, 'y', 1)", "_y = m.y"])
def test_other_uses_are_left_alone(line):
    assert not list(private_uses(ast.walk(ast.parse(line))))


def test_tests_reach_for_nothing_private():
    assert [f"{told(path)}:{use}" for path in TESTS for use in private_uses(nodes(path))] == []


# --- who may import whom --------------------------------------------------------------------------------------------


NETWORK = ("socket", "ssl", "http", "ftplib", "smtplib", "asyncio", "requests", "distributed", "dask")
CONNECTS = re.compile(rf"^\s*(?:from|import) ({'|'.join(NETWORK)}|urllib(?= import request|\.request))\b", re.MULTILINE)
MAY_CONNECT = {
    "routecheck/gui/app.py": {"socket"},  # a pair of sockets by which a signal wakes the window
    "routecheck/worklist/cluster.py": {"distributed"},
}


@pytest.mark.parametrize("line", ["import socket", "    from http.client import X", "from urllib import request"])
def test_what_connects_is_seen(line):
    assert CONNECTS.search(f"import re\n{line}\n")


def test_nothing_connects_but_by_the_one_option():
    found = {told(path): set(CONNECTS.findall(path.read_text("utf-8"))) for path in SOURCES}
    assert {path: names for path, names in found.items() if names} == MAY_CONNECT


def test_every_label_says_whether_its_text_is_plain():
    """A bare QLabel takes text of a file for HTML where it looks like it; a tooltip too."""
    bare = []
    for path in SOURCES:
        if path.name != "labels.py":
            bare += [f"{told(path)}:{node.lineno}" for node in nodes(path) if makes_label(node) or sets_tooltip(node)]
    assert bare == []


def makes_label(node):
    if isinstance(node, ast.ClassDef):
        return any(isinstance(base, ast.Name) and base.id == "QLabel" for base in node.bases)
    return isinstance(node, ast.Call) and isinstance(node.func, ast.Name) and node.func.id == "QLabel"


def sets_tooltip(node):
    """Whether text that may not be ours becomes a tooltip as it is."""
    is_tooltip = isinstance(node, ast.Call) and isinstance(node.func, ast.Attribute) and node.func.attr == "setToolTip"
    return is_tooltip and not is_literal_or_plain(node.args[0])


def is_literal_or_plain(text):
    is_plain = isinstance(text, ast.Call) and isinstance(text.func, ast.Name) and text.func.id == "plain_tooltip"
    return is_plain or isinstance(text, ast.Constant)


def run_python(code):
    return subprocess.run([sys.executable, "-c", code], cwd=ROOT, capture_output=True, text=True, check=False)


def test_checking_a_route_and_explaining_a_check_do_not_load_qt():
    done = run_python(
        "import sys\n"
        "from routecheck.cli.main import main\n"
        "main(['proof', '--demo'])\n"
        "main(['explain'])\n"
        "loaded = {m.partition('.')[0] for m in sys.modules} & {'PySide6', 'shiboken6', 'pyqtgraph'}\n"
        "assert not loaded, loaded"
    )
    assert done.returncode == 0, done.stderr
    assert "not for navigation" in done.stdout


def test_imports_point_down_only():
    done = run_python("import sys; from importlinter.cli import lint_imports; sys.exit(lint_imports(no_cache=True))")
    assert done.returncode == 0, done.stdout + done.stderr
    assert re.search(r"\b0 broken", done.stdout)


def test_no_two_test_files_have_one_name():
    """Pytest imports them by it, and then takes one for the other."""
    names = [path.name for path in (ROOT / "tests").rglob("test_*.py")]
    assert sorted(names) == sorted(set(names))
