"""Words to read beside a table: paragraphs with the records they rest on as links."""

from collections.abc import Iterable, Sequence
from html import escape
from urllib.parse import quote, unquote

from PySide6.QtCore import QEvent, QUrl, Signal
from PySide6.QtWidgets import QFrame, QTextBrowser, QWidget

from workbench.records import BY_NOUN, Source
from workbench.ui.theme import scheme_of, step

_SHOWN = 6
"""Records of one type that are named; the rest are counted."""


class Reading(QTextBrowser):
    """Paragraphs; a link, by click or by Tab and Return, asks how its record is known.

    Attributes:
        asked: The person asks how a record is known.
    """

    asked = Signal(object)

    def __init__(self, name: str, parent: QWidget | None = None) -> None:
        """Say nothing yet of what `name` tells."""
        super().__init__(parent)
        self._paragraphs: tuple[str, ...] = ()
        self.setAccessibleName(name)
        self.setFrameShape(QFrame.Shape.NoFrame)
        self.setOpenLinks(False)
        self.setTabChangesFocus(False)
        self.document().setDocumentMargin(step(self))
        self.setMinimumHeight(step(self, 9))
        self.anchorClicked.connect(self._on_link)

    def show_paragraphs(self, paragraphs: Iterable[str]) -> None:
        """Show paragraphs of HTML, each made by the functions below or escaped."""
        self._paragraphs = tuple(paragraphs)
        self._show()

    def changeEvent(self, event: QEvent) -> None:
        """Follow the scheme."""
        super().changeEvent(event)
        if event.type() == QEvent.Type.PaletteChange and self._paragraphs:
            self._show()

    def _show(self) -> None:
        scheme, gap = scheme_of(self), step(self, 0.5)
        self.document().setDefaultStyleSheet(
            f"p {{ margin: 0 0 {gap}px 0; }} a {{ color: {scheme.accent}; text-decoration: none; }}"
            f" .quiet {{ color: {scheme.quiet}; }} .wrong {{ color: {scheme.alarm}; }}"
            f" h3 {{ font-size: medium; margin: {gap}px 0 {gap // 2}px 0; }}"
            f" td {{ padding: 0 {2 * gap}px 0 0; }}"
        )
        self.setHtml("".join(self._paragraphs))

    def _on_link(self, link: QUrl) -> None:
        self.asked.emit(Source.read(unquote(link.toString())))


def paragraph(text: str, role: str = "") -> str:
    """Return plain words as a paragraph; `role` quiet or wrong."""
    return f'<p class="{role}">{escape(text)}</p>' if role else f"<p>{escape(text)}</p>"


def heading(text: str) -> str:
    """Return a heading between paragraphs."""
    return f"<h3>{escape(text)}</h3>"


def links(sources: Sequence[Source], shown: int = _SHOWN) -> str:
    """Return records as links, by type; those beyond the first few are counted."""
    by_noun: dict[str, list[Source]] = {}
    for source in dict.fromkeys(sources):
        by_noun.setdefault(source.noun, []).append(source)
    said = []
    for noun, some in by_noun.items():
        kind = BY_NOUN.get(noun)
        name = (kind.counted(len(some)) if kind else noun).partition(" ")[2] or noun
        named = ", ".join(
            f'<a href="{quote(str(one))}">{escape(_short(one))}</a>' for one in some[:shown]
        )
        more = f" and {len(some) - shown} more" if len(some) > shown else ""
        said.append(f"{escape(name)} {named}{more}")
    return "; ".join(said)


def _short(source: Source) -> str:
    """Return the ref where a label begins with one, else the label."""
    first, _, rest = source.label.partition(" · ")
    return first if rest and source.noun == "application" else source.label
