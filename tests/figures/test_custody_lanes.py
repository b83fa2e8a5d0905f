"""The lanes of custody: one for each sample, gaps told in words, entries to pick."""

from datetime import UTC

from builders import make
from matplotlib.figure import Figure

from workbench.custody.story import stories
from workbench.figures.custody_lanes import draw_custody_lanes
from workbench.records import CustodyEntry, Dossier, Sample


def entry(when: str, event: str, giver: str, receiver: str) -> CustodyEntry:
    return make(
        CustodyEntry, sample="S1", when=when, event=event, giver=giver, receiver=receiver, seal="1"
    )


def words(figure: Figure) -> list[str]:
    return [text.get_text() for axes in figure.axes for text in axes.texts]


def test_a_gap_is_written_and_entries_can_be_picked() -> None:
    sealed = entry("2026-03-01 09:05", "sealed", "Ann", "Ann")
    held = Dossier(
        [
            make(Sample, ref="S1"),
            entry("2026-03-01 09:00", "collected", "", "Ann"),
            sealed,
            entry("2026-03-04 09:00", "received", "Van", "Lab"),
        ]
    )
    figure = Figure(layout="constrained")
    marks = draw_custody_lanes(figure, stories(held), zone=UTC)
    assert "gap" in words(figure)
    assert marks.sources == {sealed.source}
    assert [label.get_text() for label in figure.axes[0].get_yticklabels()] == ["S1"]


def test_samples_without_entries_leave_a_sentence() -> None:
    figure = Figure()
    marks = draw_custody_lanes(figure, stories(Dossier([make(Sample)])), zone=UTC)
    assert words(figure) == ["no custody entries yet"]
    assert not tuple(marks)
