"""How the window looks: two schemes of colour, one type size, one grid, told once to Qt."""

from dataclasses import dataclass

from PySide6.QtCore import Qt
from PySide6.QtGui import QColor, QFont, QFontDatabase, QGuiApplication, QPalette
from PySide6.QtWidgets import QApplication, QWidget

from workbench.ui.stylesheet import stylesheet

TEXT_SIZES = (100, 115, 130, 150)
"""Sizes of text that a person may choose, in percent."""

_POINTS = 9.75
_ROLE = QPalette.ColorRole


@dataclass(frozen=True, slots=True)
class Scheme:
    """The tones of the window; what stands for a condition is in `figures.look`.

    Attributes:
        paper: Behind everything.
        sheet: Where something can be written.
        band: Behind headings of tables and the chapter list.
        ink: Text.
        quiet: Text of second rank.
        rule: Lines between things.
        accent: The one colour that says "chosen" and "can be pressed".
        on_accent: Text on the accent.
        wash: Behind what is chosen.
        alarm: What is wrong; always beside a sign or a word.
    """

    paper: str
    sheet: str
    band: str
    ink: str
    quiet: str
    rule: str
    accent: str
    on_accent: str
    wash: str
    alarm: str

    @property
    def alarm_colour(self) -> QColor:
        """The alarm as Qt paints it."""
        return QColor(self.alarm)


LIGHT = Scheme(
    paper="#FAFAF7", sheet="#FFFFFF", band="#F1F0EA", ink="#22262B", quiet="#5F646B",
    rule="#D8D6CD", accent="#1F5F7A", on_accent="#FFFFFF", wash="#DCE9EF", alarm="#A63A22",
)  # fmt: skip
DARK = Scheme(
    paper="#17191C", sheet="#1E2125", band="#202429", ink="#E6E4DE", quiet="#A3A7AC",
    rule="#3A3F45", accent="#74B3CE", on_accent="#101214", wash="#24404D", alarm="#EE8E72",
)  # fmt: skip


def is_dark(widget: QWidget) -> bool:
    """Return whether `widget` stands on dark paper."""
    return widget.palette().color(_ROLE.Window).lightness() < 128


def scheme_of(widget: QWidget) -> Scheme:
    """Return the scheme that `widget` is shown in."""
    return DARK if is_dark(widget) else LIGHT


def system_is_dark() -> bool:
    """Return whether the system asks for a dark scheme."""
    return QGuiApplication.styleHints().colorScheme() == Qt.ColorScheme.Dark


def step(widget: QWidget, eighths: float = 1) -> int:
    """Return a length on the grid: 8 px at the normal size of text, more with larger text."""
    return round(8 * eighths * widget.fontInfo().pointSizeF() / _POINTS)


def wear(app: QApplication, *, dark: bool, percent: int = 100) -> None:
    """Dress the whole program: palette, font and style sheet.

    Args:
        app: The program.
        dark: Whether to use the dark scheme.
        percent: Size of text, 100 for the normal one.
    """
    scheme = DARK if dark else LIGHT
    if app.style().objectName().casefold() != "fusion":
        app.setStyle("Fusion")
    font = _font(percent)
    app.setFont(font)
    for kind in ("QMenuBar", "QMenu", "QToolTip", "QAbstractItemView", "QHeaderView"):
        # the platform has fonts of its own for these; the stubs ask for bytes, Qt takes text
        app.setFont(font, kind)  # type: ignore[arg-type]
    app.setPalette(palette(scheme))
    app.setStyleSheet(stylesheet(scheme, percent / 100))


def quiet(font: QFont, share: float = 0.9) -> QFont:
    """Return `font` a little smaller, for text of second rank."""
    small = QFont(font)
    small.setPointSizeF(font.pointSizeF() * share)
    return small


def _font(percent: int) -> QFont:
    font = QFontDatabase.systemFont(QFontDatabase.SystemFont.GeneralFont)
    if "Noto Sans" in QFontDatabase.families() and font.family().startswith(("DejaVu", "Sans")):
        # DejaVu drops combining marks in Qt, and is a fifth wider
        font.setFamilies(["Noto Sans", "DejaVu Sans"])
    font.setPointSizeF(_POINTS * percent / 100)
    font.setFeature(QFont.Tag("tnum"), 1)
    return font


def palette(scheme: Scheme) -> QPalette:
    """Return the palette that says `scheme` to every widget."""
    made = QPalette()
    for role, tone in {
        _ROLE.Window: scheme.paper, _ROLE.WindowText: scheme.ink, _ROLE.Base: scheme.sheet,
        _ROLE.AlternateBase: scheme.band, _ROLE.Text: scheme.ink, _ROLE.Button: scheme.paper,
        _ROLE.ButtonText: scheme.ink, _ROLE.Highlight: scheme.accent, _ROLE.Mid: scheme.rule,
        _ROLE.HighlightedText: scheme.on_accent, _ROLE.PlaceholderText: scheme.quiet,
        _ROLE.ToolTipBase: scheme.band, _ROLE.ToolTipText: scheme.ink, _ROLE.Link: scheme.accent,
        _ROLE.LinkVisited: scheme.accent, _ROLE.Light: scheme.wash, _ROLE.Dark: scheme.rule,
        _ROLE.Midlight: scheme.band, _ROLE.Shadow: scheme.rule, _ROLE.BrightText: scheme.alarm,
    }.items():  # fmt: skip
        made.setColor(role, QColor(tone))
    for role in (_ROLE.WindowText, _ROLE.Text, _ROLE.ButtonText):
        made.setColor(QPalette.ColorGroup.Disabled, role, QColor(scheme.quiet))
    return made
