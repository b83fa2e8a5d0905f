"""The matrix: every bearing by its own sign, marks that lead to records, a sentence if empty."""

from functools import cache

from matplotlib.figure import Figure
from small_cases import SMALL_CASES

from workbench.figures.look import Look
from workbench.figures.matrix import draw_matrix, matrix_height_mm
from workbench.reasoning import load_knowledge, matrix_of, reason
from workbench.reasoning.matrix import Filter
from workbench.reasoning.results import Matrix
from workbench.records import Dossier


@cache
def case() -> Dossier:
    return SMALL_CASES["curing-compound-residue"]()


def matrix(rows: int = 60) -> Matrix:
    return matrix_of(reason(case()), load_knowledge(), Filter(most_causes=20, most_rows=rows))


def words(figure: Figure) -> list[str]:
    held = [text.get_text() for text in figure.texts]
    for axes in figure.axes:
        held += [one.get_text() for one in (*axes.texts, *axes.get_yticklabels())]
        held += [one.get_text() for one in axes.get_xticklabels()]
    for legend in figure.legends:
        held += [one.get_text() for one in legend.get_texts()]
    return held


def test_the_signs_are_told_in_words_and_the_marks_lead_to_records() -> None:
    figure = Figure(figsize=(10, 12))
    marks = draw_matrix(figure, matrix())
    told = " ".join(words(figure))
    assert all(word in told for word in ("supports", "contradicts", "not read", "would exclude"))
    assert marks.sources
    assert all(case().resolve(source) for source in marks.sources)


def test_it_is_drawn_in_any_scheme_and_grows_with_its_rows() -> None:
    figure = Figure(figsize=(10, 12))
    assert draw_matrix(figure, matrix(), look=Look(text_pt=6.0)).sources
    assert matrix_height_mm(matrix(60)) > matrix_height_mm(matrix(10))


def test_an_empty_matrix_leaves_a_sentence() -> None:
    figure = Figure()
    assert not draw_matrix(figure, Matrix(candidates=(), rows=())).sources
    assert "nothing is weighed yet" in words(figure)
