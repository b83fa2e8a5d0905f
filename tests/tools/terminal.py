"""The real command line, run as a person runs it: another process, in a folder of its own."""

import json
import os
import subprocess
import sys
from dataclasses import dataclass
from pathlib import Path
from typing import Any

ROOT = Path(__file__).parents[2]


@dataclass(frozen=True, slots=True)
class Answer:
    """What a command gave back.

    Attributes:
        code: Exit code: 0 success, 1 findings, 2 refused.
        said: What stood on standard output.
        told: What stood on standard error.
    """

    code: int
    said: str
    told: str

    @property
    def json(self) -> Any:
        """The answer as JSON."""
        return json.loads(self.said)


@dataclass(frozen=True, slots=True)
class Terminal:
    """A terminal that stands in a folder."""

    folder: Path

    def run(self, *words: str, typed: str = "") -> Answer:
        """Return what `workbench WORDS` gives; `typed` is what the person answers."""
        done = subprocess.run(
            [sys.executable, "-m", "workbench", *words],
            cwd=self.folder,
            env=os.environ | {"PYTHONPATH": str(ROOT), "WORKBENCH_NAME": "R. Tennick"},
            input=typed,
            capture_output=True,
            text=True,
            timeout=300,
            check=False,
        )
        return Answer(done.returncode, done.stdout, done.stderr)
