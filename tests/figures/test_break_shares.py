"""Break shares: which pulls are in doubt, told by a sign and in words."""

from builders import make
from matplotlib.figure import Figure

from workbench.analysis.strength import strength_by_plane
from workbench.figures.break_shares import draw_break_shares
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
