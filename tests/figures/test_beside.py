"""Words beside points: none hides another, none hides a point."""

from itertools import combinations

from hypothesis import given
from hypothesis import strategies as st
from matplotlib.figure import Figure

from workbench.figures.beside import RIGHT, SIDES, Box, free_sides

SIZE = 6.0
APART = st.lists(
    st.tuples(st.integers(0, 4), st.integers(0, 4)), min_size=2, max_size=12, unique=True
)


@given(APART)
def test_words_of_points_well_apart_never_overlap(places: list[tuple[int, int]]) -> None:
    figure = Figure(figsize=(6, 6), dpi=72)
    axes = figure.add_axes((0, 0, 1, 1))
    axes.set(xlim=(-1, 5), ylim=(-1, 5))
    here = [(float(x), float(y)) for x, y in places]
    sides = free_sides(axes, here, ["≥ 12.3"] * len(here), [(RIGHT, *SIDES)] * len(here), SIZE)
    spots = [axes.transData.transform(place) for place in here]
    boxes = [
        Box.of((x, y), how, 0.6 * SIZE * 6, SIZE) for (x, y), how in zip(spots, sides, strict=True)
    ]
    assert not any(one.meets(other) for one, other in combinations(boxes, 2))


def test_the_second_of_two_near_points_gives_way() -> None:
    figure = Figure(figsize=(6, 6), dpi=72)
    axes = figure.add_axes((0, 0, 1, 1))
    axes.set(xlim=(0, 432), ylim=(0, 432))
    places = [(200.0, 200.0), (212.0, 200.0)]
    sides = free_sides(axes, places, ["1.2", "1.4"], [(RIGHT, *SIDES)] * 2, SIZE)
    assert sides[0] is not RIGHT
    assert sides[1] is RIGHT
