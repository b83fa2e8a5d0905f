"""The house rules that no tool holds: sizes, one declaration, one sheet order."""

import ast
import shutil
import subprocess
from pathlib import Path

import pytest

from workbench.records import BY_NOUN, KINDS, fields_of

ROOT = Path(__file__).parent.parent
MODULES = sorted((ROOT / "workbench").rglob("*.py"))
TOP = {
    "README.md", "DEVELOPERS.md", "pyproject.toml", "workbench", "resources", "tests",
    "sample_cases", ".ci", ".gitignore",
}  # fmt: skip


def test_the_house_has_modules_to_look_at() -> None:
    assert len(MODULES) > 50


@pytest.mark.parametrize("path", MODULES, ids=lambda path: str(path.relative_to(ROOT)))
def test_no_file_is_longer_than_500_lines_and_no_function_than_60(path: Path) -> None:
    text = path.read_text("utf-8")
    assert len(text.splitlines()) <= 500
    functions = (ast.FunctionDef, ast.AsyncFunctionDef)
    for node in ast.walk(ast.parse(text)):
        if isinstance(node, functions):
            assert (node.end_lineno or node.lineno) - node.lineno < 60, node.name


def test_nothing_else_stands_at_the_top_level() -> None:
    git = shutil.which("git")
    if git is None or not (ROOT / ".git").exists():
        pytest.skip("not a checkout")
    run = subprocess.run([git, "ls-files"], cwd=ROOT, capture_output=True, text=True, check=True)
    named = run.stdout.split("\n")
    assert {name.split("/")[0].strip('"') for name in named if name} <= TOP


def test_every_record_type_has_its_own_noun_and_names_its_identity() -> None:
    assert len(BY_NOUN) == len(KINDS)
    for kind in KINDS:
        names = {info.name for info in fields_of(kind)}
        assert set(kind.identity) <= names, kind.noun


def test_no_two_fields_of_a_record_stand_under_one_heading() -> None:
    for kind in KINDS:
        headings = [info.column.heading for info in fields_of(kind)]
        assert len(headings) == len(set(headings)), kind.noun
