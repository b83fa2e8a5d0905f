"""Which figures each chapter has, and what each needs to be drawn.

The drawing is imported when a figure is first shown: the window opens without matplotlib.
"""

from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING, Any

from workbench.desk.questions import findings
from workbench.records import Dossier
from workbench.records.codes import Chapter
from workbench.ui.answers import Question

if TYPE_CHECKING:
    from matplotlib.figure import Figure

    from workbench.figures.look import Look
    from workbench.figures.marks import Marks, Selection


@dataclass(frozen=True, slots=True)
class Scene:
    """What a figure is drawn from.

    Attributes:
        dossier: The case.
        answer: What its question was answered with; None where it asks none.
        look: How it is drawn.
        selection: What is lit up.
        picture: Gives the file of an original.
    """

    dossier: Dossier
    answer: Any
    look: "Look"
    selection: "Selection"
    picture: Callable[[str], Path | None]


@dataclass(frozen=True, slots=True)
class FigureChoice:
    """One figure that can be shown.

    Attributes:
        key: What it is kept under.
        title: What it is called before a person.
        chapter: Where it is shown.
        draw: Draws it and returns what can be picked.
        question: What has to be answered first; None for nothing.
    """

    key: str
    title: str
    chapter: Chapter
    draw: "Callable[[Figure, Scene], Marks]"
    question: Question[Any] | None = None


def _adhesion_plan(figure: "Figure", scene: Scene) -> "Marks":
    from workbench.figures.adhesion_plan import draw_adhesion_plan

    return draw_adhesion_plan(
        figure, scene.dossier, scene.answer, look=scene.look, picture=scene.picture,
        selection=scene.selection,
    )  # fmt: skip


FIGURES: tuple[FigureChoice, ...] = (
    FigureChoice(
        "adhesion-plan", "Adhesion on the plan", Chapter.FIELD_TESTS, _adhesion_plan,
        findings.strength,
    ),
)  # fmt: skip


def figures_of(chapter: Chapter) -> tuple[FigureChoice, ...]:
    """Return the figures of a chapter."""
    return tuple(one for one in FIGURES if one.chapter is chapter)
