"""Keeping files as originals."""

from dataclasses import dataclass
from pathlib import Path

from workbench.casefile import FileToKeep
from workbench.desk.acts.act import ActRefusedError, Plan
from workbench.records import Dossier


@dataclass(frozen=True, slots=True)
class Keep:
    """Files to be kept unchanged; a file that is kept stays, so there is no undoing it."""

    files: tuple[FileToKeep, ...]
    why: str = ""

    def plan(self, dossier: Dossier) -> Plan:  # noqa: ARG002 - all acts are planned alike
        """Return what the act does.

        Raises:
            ActRefusedError: There are no files, or one is not where it was said to be.
        """
        if not self.files:
            raise ActRefusedError("there are no files to keep")
        refuse_missing(self.files)
        return Plan(what=f"kept {files_in_words(self.files)}", keep=self.files)


def files_in_words(files: tuple[FileToKeep, ...]) -> str:
    """Return files in words: "photos/p01.jpg", "24 files"."""
    return files[0].name if len(files) == 1 else f"{len(files)} files"


def refuse_missing(files: tuple[FileToKeep, ...]) -> None:
    """Refuse files that are not where they were said to be.

    Raises:
        ActRefusedError: One of them is not; the text names it.
    """
    for file in files:
        if isinstance(file.source, Path) and not file.source.is_file():
            raise ActRefusedError(f"{file.name}: there is no file {file.source}")
