"""The frame of the commands: exit codes, one clear sentence, and the window where none is named."""

import sys
from pathlib import Path
from types import ModuleType, SimpleNamespace

import pytest

import workbench.__main__ as program
from workbench.cli import main as frame
from workbench.cli.main import main
from workbench.cli.printing import count, progress, say_json
from workbench.records import Cancelled, KnownError, When

Captured = pytest.CaptureFixture[str]


def only(monkeypatch: pytest.MonkeyPatch, run: object) -> None:
    """Leave one command, `act`, which does `run`."""
    command = ModuleType("workbench.cli.commands.act")
    command.run = run  # type: ignore[attr-defined]
    monkeypatch.setattr(frame, "_commands", lambda: iter([command]))


@pytest.mark.parametrize(
    ("wrong", "code", "told"),
    [
        (KnownError("the plan has no scale; draw it"), 2, "workbench: the plan has no scale"),
        (FileNotFoundError(2, "No such file or directory", "a.png"), 2, "a.png: No such file"),
        (
            PermissionError(13, "Permission denied", "no-such/.a.docx.part"),
            2,
            "no-such: nothing can be written there (Permission denied); choose another folder",
        ),
        (
            FileNotFoundError(2, "No such file or directory", "no-such/.a.xlsx.12"),
            2,
            "no-such: there is no such folder",
        ),
        (Cancelled(), 130, "nothing was kept of what was not finished"),
        (KeyboardInterrupt(), 130, "stopped"),
        (ZeroDivisionError("oh"), 70, "a defect of the program"),
    ],
)
def test_what_goes_wrong_is_told_in_one_sentence_with_its_exit_code(
    monkeypatch: pytest.MonkeyPatch, capsys: Captured, wrong: BaseException, code: int, told: str
) -> None:
    def run() -> int:
        """Act."""
        raise wrong

    only(monkeypatch, run)
    assert main(["act"]) == code
    said = capsys.readouterr()
    assert told in said.err
    assert said.out == ""


@pytest.mark.parametrize("code", [0, 1])
def test_a_command_says_by_its_code_whether_something_needs_attention(
    monkeypatch: pytest.MonkeyPatch, code: int
) -> None:
    def run() -> int:
        """Act."""
        return code

    only(monkeypatch, run)
    assert main(["act"]) == code


@pytest.mark.parametrize(
    ("words", "told"),
    [
        (["nex"], "No such command 'nex'"),
        (["new"], "Missing argument 'PATH.case'. Try “workbench new --help”."),
        (["new", "a.case", "--titel", "x"], "--title). Try “workbench new --help”."),
    ],
)
def test_a_command_line_that_cannot_be_read_is_told_with_where_to_look(
    capsys: Captured, words: list[str], told: str
) -> None:
    assert main(words) == 2
    said = capsys.readouterr().err
    assert told in said
    assert said.startswith("workbench: ")
    assert said.count("\n") == 1


def test_every_command_has_its_file_and_its_help(capsys: Captured) -> None:
    assert main([]) == 0
    listed = capsys.readouterr().out
    names = [
        one.stem.rstrip("_").replace("_", "-")
        for one in (Path(frame.__file__).parent / "commands").glob("[a-z]*.py")
    ]
    assert {"new", "verify", "check"} <= set(names)
    for name in names:
        assert f"  {name} " in listed
        assert main([name, "--help"]) == 0
        assert "Usage: workbench" in capsys.readouterr().out


def test_without_a_command_the_window_opens_and_with_a_case_it_opens_on_it(
    tmp_path: Path,
) -> None:
    opened: list[tuple[Path | None, str]] = []

    def window(case: Path | None, desk: str) -> int:
        opened.append((case, desk))
        return 0

    folder = tmp_path / "a.case"
    folder.mkdir()
    assert main([], window=window) == 0
    assert main([str(folder)], window=window) == 0
    assert opened == [(None, ""), (folder, "")]


def test_the_window_is_reached_without_what_only_commands_need(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    monkeypatch.delitem(sys.modules, "typer", raising=False)
    monkeypatch.setitem(sys.modules, "typer", None)
    assert main([], window=lambda _case, _desk: 0) == 0


@pytest.mark.parametrize("words", [[], ["receive", "a.case"]])
def test_without_a_screen_no_window_is_tried(
    monkeypatch: pytest.MonkeyPatch, capsys: Captured, words: list[str]
) -> None:
    for name in ("DISPLAY", "WAYLAND_DISPLAY", "QT_QPA_PLATFORM"):
        monkeypatch.delenv(name, raising=False)
    monkeypatch.setattr(sys, "platform", "linux")
    monkeypatch.setattr(sys, "argv", ["workbench", *words])
    assert program.main() == 2
    assert "there is no screen here" in capsys.readouterr().err


def test_json_is_plain_and_has_no_numbers_that_json_lacks(capsys: Captured) -> None:
    say_json({"a": (When("2019"), Path("x/y"), None, True, 1.5), "é": {"b"}})
    assert capsys.readouterr().out == (
        '{\n  "a": [\n    {\n      "text": "2019"\n    },\n    "x/y",\n    null,\n    true,\n'
        '    1.5\n  ],\n  "é": [\n    "b"\n  ]\n}\n'
    )
    with pytest.raises(ValueError, match="JSON"):
        say_json(float("nan"))


def test_progress_is_shown_on_a_terminal_and_nowhere_else(
    monkeypatch: pytest.MonkeyPatch, capsys: Captured
) -> None:
    with progress("Reading") as step:
        step(1, 2)
    assert capsys.readouterr().err == ""
    written: list[str] = []
    terminal = SimpleNamespace(isatty=lambda: True, write=written.append, flush=lambda: None)
    monkeypatch.setattr("sys.stderr", terminal)
    with progress("Reading") as step:
        for done in (1, 1, 2):
            step(done, 2)
        step(0, 0)
    assert "".join(written) == "\rReading  50 %\rReading 100 %\r\033[K"


def test_numbers_stand_with_their_noun() -> None:
    assert count(1, "finding") == "1 finding"
    assert count(3, "entry", "entries") == "3 entries"
