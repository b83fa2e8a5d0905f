"""The style sheet of the window: hairlines instead of boxes, one accent, an 8 px grid."""

from string import Template
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from workbench.ui.theme import Scheme

_SHEET = Template("""
QWidget { outline: none; }
QToolTip { background: $band; color: $ink; border: 1px solid $rule; padding: ${p4}px; }

QMenuBar { background: $band; border-bottom: 1px solid $rule; padding: 0 ${p4}px; }
QMenuBar::item { padding: ${p4}px ${p8}px; background: transparent; }
QMenuBar::item:selected, QMenuBar::item:pressed { background: $wash; color: $ink; }
QMenu { background: $sheet; border: 1px solid $rule; padding: ${p4}px 0; }
QMenu::item { padding: ${p4}px ${p24}px ${p4}px ${p24}px; }
QMenu::item:selected { background: $wash; color: $ink; }
QMenu::item:disabled { color: $quiet; }
QMenu::separator { height: 1px; background: $rule; margin: ${p4}px 0; }

QPushButton, QToolButton { background: transparent; border: 1px solid $rule; border-radius: 2px;
  padding: ${p3}px ${p8}px; color: $ink; }
QPushButton:hover, QToolButton:hover { background: $wash; }
QPushButton:pressed, QToolButton:pressed, QToolButton:checked, QPushButton:checked {
  background: $wash; border-color: $accent; }
QPushButton:focus, QToolButton:focus { border-color: $accent; }
QPushButton:disabled, QToolButton:disabled { color: $quiet; border-color: $rule; }
QPushButton[main="true"] { background: $accent; color: $on_accent; border-color: $accent; }
QPushButton[main="true"]:hover { border-color: $ink; }
QPushButton[main="true"]:focus { border: 2px solid $ink; padding: ${p2}px ${p7}px; }
QPushButton[main="true"]:disabled { background: $band; color: $quiet; border-color: $rule; }
QToolButton[flat="true"], QPushButton[flat="true"] { border-color: transparent; }
QToolButton[flat="true"]:focus, QPushButton[flat="true"]:focus { border-color: $accent; }
QToolButton[flat="true"]:checked { border-color: $accent; }
QToolButton[tight="true"] { padding: ${p3}px ${p4}px; }
QPushButton[link="true"] { border: 1px solid transparent; color: $accent; padding: ${p2}px;
  text-align: left; }
QPushButton[link="true"]:hover { background: transparent; text-decoration: underline; }
QPushButton[link="true"]:focus { border-color: $accent; }
QToolButton::menu-indicator { image: none; }

QLineEdit, QPlainTextEdit, QTextEdit, QComboBox, QSpinBox, QAbstractSpinBox {
  background: $sheet; color: $ink; border: 1px solid $rule; border-radius: 2px;
  padding: ${p2}px ${p6}px; selection-background-color: $accent;
  selection-color: $on_accent; }
QAbstractSpinBox::up-button { subcontrol-position: top right; width: 0; border: none; }
QAbstractSpinBox::down-button { subcontrol-position: bottom right; width: 0; border: none; }
QLineEdit#qt_spinbox_lineedit { border: none; padding: 0 ${p4}px; background: transparent; }
QLineEdit:focus, QPlainTextEdit:focus, QTextEdit:focus, QComboBox:focus, QAbstractSpinBox:focus {
  border-color: $accent; }
QLineEdit[wrong="true"], QPlainTextEdit[wrong="true"], QComboBox[wrong="true"] {
  border-color: $alarm; }
QLineEdit:disabled, QPlainTextEdit:disabled, QComboBox:disabled, QLineEdit:read-only {
  background: $paper; color: $ink; }
QComboBox::drop-down { border: none; width: ${p16}px; }
QComboBox QAbstractItemView, QListView#completer { background: $sheet; color: $ink;
  border: 1px solid $rule; selection-background-color: $wash; selection-color: $ink; }

QTableView, QTreeView, QListView { background: $sheet; border: 1px solid $rule;
  gridline-color: $rule; selection-background-color: $wash; selection-color: $ink;
  alternate-background-color: $sheet; }
QTableView:focus, QTreeView:focus, QListView:focus { border-color: $accent; }
QTreeView::item, QListView::item { padding: ${p2}px ${p4}px; }
QTreeView::item:selected, QListView::item:selected, QTableView::item:selected {
  background: $wash; color: $ink; }
QTableView::item { padding: 0 ${p6}px; border: none; }
QHeaderView { background: $band; border: none; }
QHeaderView::section { background: $band; color: $quiet; border: none;
  border-bottom: 1px solid $rule; padding: ${p2}px ${p6}px; }
QTableCornerButton::section { background: $band; border: none; }

QScrollBar:vertical { background: transparent; width: ${p10}px; margin: 0; }
QScrollBar:horizontal { background: transparent; height: ${p10}px; margin: 0; }
QScrollBar::handle { background: $rule; border-radius: ${p3}px; margin: ${p2}px; }
QScrollBar::handle:hover { background: $quiet; }
QScrollBar::handle:vertical { min-height: ${p24}px; }
QScrollBar::handle:horizontal { min-width: ${p24}px; }
QScrollBar::add-line, QScrollBar::sub-line { width: 0; height: 0; }
QScrollBar::add-page, QScrollBar::sub-page { background: transparent; }
QSplitter::handle { background: $rule; }
QSplitter::handle:hover { background: $accent; }
QScrollArea { border: none; background: transparent; }
QProgressBar { border: 1px solid $rule; border-radius: 2px; background: $sheet; color: $ink;
  text-align: center; height: ${p16}px; }
QProgressBar::chunk { background: $wash; }
QCheckBox, QRadioButton { spacing: ${p6}px; padding: ${p2}px 0; }
QCheckBox:focus, QRadioButton:focus { color: $accent; }

*[role="title"] { font-size: ${title}pt; font-weight: 600; }
*[role="heading"] { font-weight: 600; }
*[role="quiet"] { color: $quiet; }
*[role="wrong"] { color: $alarm; }
*[role="overline"] { color: $quiet; font-weight: 600; letter-spacing: 1px;
  font-size: ${small}pt; }
*[panel="band"] { background: $band; }
*[panel="sheet"] { background: $sheet; }
*[panel="rule"] { background: $rule; }
*[rule="below"] { border-bottom: 1px solid $rule; }
*[rule="above"] { border-top: 1px solid $rule; }
""")


def stylesheet(scheme: "Scheme", scale: float) -> str:
    """Return the style sheet of `scheme`, with every length times `scale`."""
    lengths = {f"p{n}": str(max(1, round(n * scale))) for n in (2, 3, 4, 6, 7, 8, 10, 16, 24)}
    sizes = {"title": f"{12.5 * scale:.1f}", "small": f"{8 * scale:.1f}"}
    tones = {name: getattr(scheme, name) for name in scheme.__slots__}
    return _SHEET.substitute(lengths | sizes | tones)
