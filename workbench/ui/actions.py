"""The commands of the window, menu by menu."""

from collections.abc import Callable
from functools import partial
from typing import TYPE_CHECKING

from workbench.records.codes import Chapter
from workbench.trade.showing import System
from workbench.ui.commands import Command
from workbench.ui.pages.page import Page
from workbench.ui.pages.registry import HISTORY, REPORT
from workbench.ui.theme import TEXT_SIZES

if TYPE_CHECKING:
    from workbench.ui.where.panel import WherePanel
    from workbench.ui.window import Window

_BOOKS = "Field books (*.xlsx);;All files (*)"
_CASE, _EDIT, _SHOW, _PLAN, _HELP = "&Case", "&Edit", "&Show", "&Plan", "&Help"


def commands_of(window: "Window") -> tuple[Command, ...]:
    """Return every command of `window`, in the order of its menus."""
    return (
        *_case(window), *_edit(window), *_show(window), *_plan(window), *_help(window)
    )  # fmt: skip


def _case(window: "Window") -> tuple[Command, ...]:
    def open_case() -> None:
        window.ask.folder(window, "Folder of the case", window.open_case)

    def take_in() -> None:
        if window.desk:
            window.ask.file(window, "Field book", _BOOKS, window.desk.errands.take_in)

    def report() -> None:
        if window.desk and (page := window.desk.open_page(REPORT)):
            page.enter()

    def take_in_folder() -> None:
        if window.desk:
            window.ask.folder(window, "Folder of CSV files", window.desk.errands.take_in)

    return (
        Command(_CASE, "&Open…", open_case, "Ctrl+O", needs_case=False),
        Command(_CASE, "&Take in a field book…", take_in, "Ctrl+I", parted=True),
        Command(_CASE, "Take in a &folder of CSV files…", take_in_folder),
        Command(_CASE, "Write the &report", report, "Ctrl+R"),
        Command(_CASE, "C&lose the case", window.close_case, "Ctrl+W"),
        Command(_CASE, "&Quit", window.close, "Ctrl+Q", needs_case=False, parted=True),
    )


def _edit(window: "Window") -> tuple[Command, ...]:
    def page(doing: Callable[[Page], object]) -> Callable[[], None]:
        def done() -> None:
            if window.desk and window.desk.page:
                doing(window.desk.page)

        return done

    def bench(name: str) -> None:
        if window.bench:
            getattr(window.bench, name)()

    def open_page(key: str) -> None:
        if window.desk and (opened := window.desk.open_page(key)):
            opened.enter()

    def paste() -> None:
        if window.desk:
            window.desk.errands.paste_rows(window.desk.key)

    return (
        Command(_EDIT, "&Undo", partial(bench, "undo"), "Ctrl+Z"),
        Command(_EDIT, "&Redo", partial(bench, "redo"), "Ctrl+Shift+Z"),
        Command(_EDIT, "What was &done", partial(open_page, HISTORY), "F9"),
        Command(_EDIT, "&Add a record", page(lambda one: one.add()), "Ins", parted=True),
        Command(_EDIT, "&Save the form", page(lambda one: one.save()), "Ctrl+Return"),
        Command(_EDIT, "&Withdraw…", page(lambda one: one.withdraw()), "Ctrl+Del"),
        Command(_EDIT, "&Paste rows", paste, "Ctrl+Shift+V"),
        Command(
            _EDIT, "&Filter the table", page(lambda one: one.go_to_filter()), "Ctrl+F", parted=True
        ),
    )


def _show(window: "Window") -> tuple[Command, ...]:
    def desk(doing: str) -> Callable[[], None]:
        def done() -> None:
            if window.desk:
                getattr(window.desk, doing)()

        return done

    def chapter(one: Chapter) -> None:
        if window.desk:
            window.desk.open_chapter(one)

    def units(system: System) -> None:
        if window.bench:
            window.bench.show_in(system)

    chapters = tuple(
        Command(_SHOW, str(one), partial(chapter, one), f"Ctrl+{at}")
        for at, one in enumerate(Chapter, 1)
    )
    sizes = tuple(
        Command(
            _SHOW, f"Text at {percent} %", partial(window.set_text, percent), needs_case=False,
            parted=percent == TEXT_SIZES[0],
        )
        for percent in TEXT_SIZES
    )  # fmt: skip
    schemes = tuple(
        Command(
            _SHOW, title, partial(window.set_scheme, scheme), needs_case=False,
            parted=scheme == "light",
        )
        for scheme, title in (
            ("light", "Light"), ("dark", "Dark"), ("system", "Light or dark as the system")
        )
    )  # fmt: skip
    return (
        *chapters,
        Command(_SHOW, "&Find anything", desk("find_anything"), "Ctrl+K", parted=True),
        Command(_SHOW, "&How do you know?", desk("how_known"), "F4"),
        Command(_SHOW, "&Open points", desk("open_points"), "F8"),
        Command(_SHOW, "Go to the page", desk("go_to_page"), "F5", parted=True),
        Command(_SHOW, "Go to the plan (where)", desk("go_to_plan"), "F6"),
        Command(_SHOW, "Go to the stack (which layer)", desk("go_to_stack"), "F7"),
        Command(_SHOW, "Large figure", desk("toggle_large_figure"), "F11"),
        Command(_SHOW, "Show &everything", desk("show_everything"), "Esc"),
        Command(_SHOW, "Numbers in SI units", partial(units, System.SI), parted=True),
        Command(_SHOW, "Numbers in US units", partial(units, System.US)),
        Command(_SHOW, "Numbers in both units", partial(units, System.BOTH)),
        *sizes,
        *schemes,
    )


def _plan(window: "Window") -> tuple[Command, ...]:
    def where(doing: Callable[["WherePanel"], object]) -> Callable[[], None]:
        def done() -> None:
            if window.desk:
                window.desk.go_to_plan()
                doing(window.desk.where)

        return done

    return (
        Command(_PLAN, "&Place a location", where(lambda one: one.draw("point")), "Ctrl+L"),
        Command(_PLAN, "&Outline an area", where(lambda one: one.draw("outline")), "Ctrl+B"),
        Command(_PLAN, "A &line to test nearness to", where(lambda one: one.draw("line"))),
        Command(
            _PLAN, "&New plan from a picture…", where(lambda one: one.plan_asked.emit("")),
            parted=True,
        ),
        Command(_PLAN, "&Calibrate this plan again…", where(lambda one: one.calibrate_again())),
        Command(_PLAN, "Next le&vel or side", where(lambda one: one.next_level()), "Ctrl+G"),
    )  # fmt: skip


def _help(window: "Window") -> tuple[Command, ...]:
    return (Command(_HELP, "&Guide", window.show_guide, "F1", needs_case=False),)
