"""What the window remembers from one day to the next."""

from pathlib import Path
from typing import Any

from PySide6.QtCore import QSettings, QStandardPaths
from PySide6.QtGui import QGuiApplication

from workbench.ui.theme import TEXT_SIZES, system_is_dark

_MOST_RECENT = 8


class Settings:
    """The person's choices, and the cases they worked on."""

    def __init__(self) -> None:
        """Read what is remembered."""
        self._kept = QSettings(
            QSettings.Format.IniFormat, QSettings.Scope.UserScope, "workbench", "workbench"
        )

    @property
    def store(self) -> QSettings:
        """Where windows keep their shape."""
        return self._kept

    @property
    def author(self) -> str:
        """The name under which acts are recorded."""
        return str(self._kept.value("author", ""))

    @author.setter
    def author(self, name: str) -> None:
        self._kept.setValue("author", name.strip())

    @property
    def text_percent(self) -> int:
        """Size of text in percent."""
        kept = _number(self._kept.value("text percent", 100))
        return kept if kept in TEXT_SIZES else 100

    @text_percent.setter
    def text_percent(self, percent: int) -> None:
        self._kept.setValue("text percent", percent)

    @property
    def scheme(self) -> str:
        """One of light, dark, system."""
        kept = str(self._kept.value("scheme", "system"))
        return kept if kept in {"light", "dark"} else "system"

    @scheme.setter
    def scheme(self, scheme: str) -> None:
        self._kept.setValue("scheme", scheme)

    @property
    def dark(self) -> bool:
        """Whether the dark scheme is to be worn now."""
        return system_is_dark() if self.scheme == "system" else self.scheme == "dark"

    @property
    def recent(self) -> tuple[Path, ...]:
        """The cases that were opened last and are still there, the last one first."""
        kept = self._kept.value("recent", [])
        names = kept if isinstance(kept, list) else [kept]
        paths = (Path(str(name)) for name in names if name)
        return tuple(path for path in paths if path.is_dir())

    def remember(self, case: Path) -> None:
        """Put a case first among those opened last."""
        paths = [case.resolve(), *(one for one in self.recent if one != case.resolve())]
        self._kept.setValue("recent", [str(path) for path in paths[:_MOST_RECENT]])

    @property
    def drafts(self) -> Path:
        """Where typed text that is not saved is kept."""
        kind = QStandardPaths.StandardLocation.AppDataLocation
        place = QStandardPaths.writableLocation(kind) or str(Path.home())
        return Path(place) / (QGuiApplication.applicationName() or "workbench") / "drafts"


def _number(value: Any) -> int:  # noqa: ANN401 - whatever the settings file holds
    try:
        return int(value)
    except (TypeError, ValueError):
        return 0
