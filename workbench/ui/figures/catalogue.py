"""Which figures each chapter has, and what each needs to be drawn.

The drawing is imported when a figure is first shown: the window opens without matplotlib.
"""

from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING, Any

from workbench.desk.questions import findings
from workbench.desk.questions.pattern import on_the_plan
from workbench.records import Dossier, Sample
from workbench.records.codes import Chapter
from workbench.records.levels import each_level, places_of
from workbench.ui.answers import Question

if TYPE_CHECKING:
    from matplotlib.figure import Figure

    from workbench.figures.look import Look
    from workbench.figures.marks import Marks, Selection

_MOST_DOUBTED = 100
"""With more pulls the bars stand for areas, and no single pull can be marked."""


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

    @property
    def level(self) -> tuple[str, Dossier]:
        """The level or side of what is chosen, else the first, with the case as it lies there."""
        levels = each_level(self.dossier)
        lit = (one for one in levels.items() if places_of(one[1]) & self.selection.areas)
        return next(lit, next(iter(levels.items())))


@dataclass(frozen=True, slots=True)
class FigureChoice:
    """One figure that can be shown.

    Attributes:
        key: What it is kept under.
        title: What it is called before a person.
        chapter: Where it is shown.
        draw: Draws it and returns what can be picked.
        question: What has to be answered first; None for nothing.
        height_mm: The least height at which it can be read, at the text size of the report.
    """

    key: str
    title: str
    chapter: Chapter
    draw: "Callable[[Figure, Scene], Marks]"
    question: Question[Any] | None = None
    height_mm: Callable[[Scene], float] = lambda _scene: 70.0


def _adhesion_plan(figure: "Figure", scene: Scene) -> "Marks":
    from workbench.figures.adhesion_plan import draw_adhesion_plan

    level, dossier = scene.level
    result, between = scene.answer
    marks = draw_adhesion_plan(
        figure, dossier, result, look=scene.look, picture=scene.picture,
        surface=between[level], selection=scene.selection,
    )  # fmt: skip
    _name_level(figure, level, scene.look)
    return marks


def _name_level(figure: "Figure", level: str, look: "Look") -> None:
    if level:
        words = f"level or side: {level}"
        figure.text(0.01, 0.99, words, va="top", zorder=6, **look.words(note=True))


def _adhesion_stack(figure: "Figure", scene: Scene) -> "Marks":
    from workbench.figures.adhesion_stack import draw_adhesion_stack

    return draw_adhesion_stack(
        figure, scene.dossier, scene.answer, look=scene.look, selection=scene.selection
    )


def _break_shares(figure: "Figure", scene: Scene) -> "Marks":
    from workbench.figures.break_shares import draw_break_shares

    few = len(scene.answer.pulls) <= _MOST_DOUBTED
    doubtful = frozenset(findings.doubts(scene.dossier)) if few else frozenset()
    return draw_break_shares(
        figure, scene.dossier, scene.answer, look=scene.look, selection=scene.selection,
        doubtful=doubtful,
    )  # fmt: skip


def _break_shares_height(scene: Scene) -> float:
    from workbench.figures.break_shares import break_shares_height_mm

    return break_shares_height_mm(scene.answer)


def _ratings(figure: "Figure", scene: Scene) -> "Marks":
    from workbench.figures.ratings import draw_ratings

    return draw_ratings(figure, scene.dossier, look=scene.look, selection=scene.selection)


def _ratings_height(scene: Scene) -> float:
    from workbench.figures.ratings import ratings_height_mm

    return ratings_height_mm(scene.dossier)


def _thickness(figure: "Figure", scene: Scene) -> "Marks":
    from workbench.figures.thickness import draw_thickness

    return draw_thickness(figure, scene.dossier, look=scene.look, selection=scene.selection)


def _thickness_height(scene: Scene) -> float:
    from workbench.figures.thickness import thickness_height_mm

    return thickness_height_mm(scene.dossier)


def _moisture(figure: "Figure", scene: Scene) -> "Marks":
    from workbench.figures.moisture import draw_moisture

    level, dossier = scene.level
    marks = draw_moisture(
        figure, dossier, look=scene.look, picture=scene.picture, selection=scene.selection
    )
    _name_level(figure, level, scene.look)
    return marks


def _moisture_height(scene: Scene) -> float:
    from workbench.figures.moisture import moisture_height_mm

    return moisture_height_mm(scene.level[1])


def _timeline(figure: "Figure", scene: Scene) -> "Marks":
    from workbench.figures.timeline import draw_timeline

    return draw_timeline(figure, scene.answer, look=scene.look, selection=scene.selection)


def _timeline_height(scene: Scene) -> float:
    from workbench.figures.timeline import timeline_height_mm

    return timeline_height_mm(scene.answer)


def _pattern(figure: "Figure", scene: Scene) -> "Marks":
    from workbench.figures.pattern import draw_pattern

    return draw_pattern(figure, scene.answer, look=scene.look, selection=scene.selection)


def _pattern_height(scene: Scene) -> float:
    from workbench.figures.pattern import pattern_height_mm

    return pattern_height_mm(scene.answer)


def _custody_lanes(figure: "Figure", scene: Scene) -> "Marks":
    from workbench.custody.story import stories
    from workbench.figures.custody_lanes import draw_custody_lanes

    dossier = scene.dossier
    return draw_custody_lanes(figure, stories(dossier), zone=dossier.zone, look=scene.look)


def _custody_lanes_height(scene: Scene) -> float:
    return 40.0 + 6.5 * len(scene.dossier.all(Sample))


def _height(millimetres: float) -> Callable[[Scene], float]:
    return lambda _scene: millimetres


FIGURES: tuple[FigureChoice, ...] = (
    FigureChoice(
        "timeline", "What was laid when", Chapter.BACKGROUND, _timeline, findings.timeline,
        _timeline_height,
    ),
    FigureChoice(
        "pattern", "What it follows", Chapter.SURVEY, _pattern, findings.patterns, _pattern_height
    ),
    FigureChoice(
        "adhesion-stack", "By plane", Chapter.FIELD_TESTS, _adhesion_stack, findings.strength,
        _height(118),
    ),
    FigureChoice(
        "break-shares", "Each break", Chapter.FIELD_TESTS, _break_shares, findings.strength,
        _break_shares_height,
    ),
    FigureChoice(
        "adhesion-plan", "On the plan", Chapter.FIELD_TESTS, _adhesion_plan, on_the_plan,
        _height(90),
    ),
    FigureChoice(
        "ratings", "Ratings", Chapter.FIELD_TESTS, _ratings, height_mm=_ratings_height
    ),
    FigureChoice(
        "thickness", "Thickness", Chapter.FIELD_TESTS, _thickness, height_mm=_thickness_height
    ),
    FigureChoice(
        "moisture", "Moisture and salts", Chapter.FIELD_TESTS, _moisture,
        height_mm=_moisture_height,
    ),
    FigureChoice(
        "custody-lanes", "Who held each sample", Chapter.SAMPLES, _custody_lanes,
        height_mm=_custody_lanes_height,
    ),
)  # fmt: skip


def figures_of(chapter: Chapter) -> tuple[FigureChoice, ...]:
    """Return the figures of a chapter."""
    return tuple(one for one in FIGURES if one.chapter is chapter)
