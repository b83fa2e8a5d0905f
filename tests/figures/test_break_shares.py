"""Break shares: which pulls are in doubt, told by a sign and in words."""

from builders import make
from matplotlib.figure import Figure

from workbench.analysis.strength import strength_by_plane
from workbench.figures.break_shares import break_shares_height_mm, draw_break_shares
from workbench.records import Area, Coat, Dossier, Location, PullOff


def test_a_pull_in_doubt_bears_a_question_mark_and_the_legend_says_what_it_means() -> None:
    pulls = [
        make(PullOff, ref=f"P{n}", reading="2 MPa", fixture="20 mm", breaks="B 100")
        for n in range(3)
    ]
    held = Dossier([make(Area), make(Location), make(Coat), *pulls])
    figure = Figure()
    draw_break_shares(figure, held, strength_by_plane(held), doubtful={pulls[1].source})
    words = [text.get_text() for text in figure.axes[0].texts]
    assert "? P1" in words
    assert "P0" in words
    legend = [text.get_text() for one in figure.legends for text in one.get_texts()]
    assert any(word.startswith("?") for word in legend)


def test_every_word_of_the_legend_is_on_the_paper() -> None:
    long = "polyurethane finish of the long name"
    coats = [make(Coat, order=n, product=f"{long} {n}") for n in range(1, 4)]
    pull = make(PullOff, reading="2 MPa", fixture="20 mm", breaks="B 20; B/C 20; C/D 20; -/Y 40")
    held = Dossier([make(Area), make(Location), make(Coat, order=0), *coats, pull])
    result = strength_by_plane(held)
    figure = Figure(figsize=(160 / 25.4, break_shares_height_mm(result) / 25.4))
    draw_break_shares(figure, held, result, doubtful={pull.source})
    figure.draw_without_rendering()
    whole = figure.bbox
    for one in figure.legends:
        box = one.get_window_extent()
        assert whole.x0 <= box.x0
        assert box.x1 <= whole.x1
        assert box.y0 >= whole.y0


def test_the_name_of_an_area_never_meets_the_bar_of_its_condition() -> None:
    pull = make(PullOff, reading="2 MPa", fixture="20 mm", breaks="B 100")
    named = make(Area, ref="stairwell-B")
    held = Dossier([named, make(Location, area="stairwell-B"), make(Coat), pull])
    result = strength_by_plane(held)
    figure = Figure(figsize=(160 / 25.4, break_shares_height_mm(result) / 25.4))
    draw_break_shares(figure, held, result)
    figure.draw_without_rendering()
    (axes,) = figure.axes
    name = next(one for one in axes.texts if one.get_text() == "stairwell-B")
    bar = axes.lines[0].get_window_extent()
    assert name.get_window_extent().x0 > bar.x1
