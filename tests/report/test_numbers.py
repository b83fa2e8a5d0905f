"""Numbers, bookmarks and refs: each once, in an order that a person expects."""

import re

import pytest
from matplotlib.figure import Figure as Drawing

from workbench.records import Source
from workbench.report.blocks import Figure, Heading, Section, Table
from workbench.report.numbers import _letters, numbers_of
from workbench.report.refs import in_order, in_short
from workbench.report.wording import unit_once, unparted


def draw(_drawing: Drawing) -> None:
    return None


def figure(key: str) -> Figure:
    return Figure(key, f"Caption of {key}", "alt", draw)


def test_a_thousand_figures_have_a_thousand_bookmarks_that_word_accepts() -> None:
    figures = tuple(figure(f"a very long key with the same beginning {n}") for n in range(1000))
    numbers = numbers_of([Section("s", "S", figures)])
    names = [target.bookmark for target in numbers.targets.values()]
    assert len({name.lower() for name in names}) == 1001
    assert all(re.fullmatch("[A-Za-z][A-Za-z0-9]{0,39}", name) for name in names)
    assert len({target.id for target in numbers.targets.values()}) == 1001


def test_figures_run_through_all_sections_and_headings_count_within_theirs() -> None:
    one = Section("one", "One", (Heading(2, "A", "a"), figure("f"), Heading(2, "B", "b")))
    two = Section("two", "Two", (Heading(2, "C", "c"), Heading(3, "D", "d"), figure("g")))
    last = Section("last", "Last", (Heading(2, "E", "e"), Table("t", "T", (), ())), appendix=True)
    labels = {key: target.label for key, target in numbers_of([one, two, last]).targets.items()}
    assert labels["figure g"] == "Figure 2"
    assert labels["heading one b"] == "Section 1.2"
    assert labels["heading two d"] == "Section 2.1.1"
    assert labels["section last"] == "Appendix A"
    assert labels["heading last e"] == "E"


def test_a_figure_put_before_another_moves_its_number() -> None:
    before = numbers_of([Section("s", "S", (figure("f"), figure("g")))])
    after = numbers_of([Section("s", "S", (figure("new"), figure("f"), figure("g")))])
    assert (before.label("figure g"), after.label("figure g")) == ("Figure 2", "Figure 3")


def test_two_parts_of_one_name_are_refused() -> None:
    with pytest.raises(ValueError, match="two parts of the report are called figure f"):
        numbers_of([Section("s", "S", (figure("f"), figure("f")))])


def test_a_reference_to_nothing_says_so() -> None:
    assert "nothing here is called “figure x”" in numbers_of([]).label("figure x")


def test_letters_go_on_after_z() -> None:
    assert [_letters(n) for n in (1, 26, 27, 52, 53, 703)] == ["A", "Z", "AA", "AZ", "BA", "AAA"]


def sources(noun: str, *labels: str) -> tuple[Source, ...]:
    return tuple(Source(noun, label) for label in labels)


def test_refs_that_follow_each_other_are_drawn_together() -> None:
    pulls = sources("pull_off", "P-10", "P-02", "P-03", "P-04", "P-05", "P-12")
    assert in_short(pulls) == "P-02 to P-05, P-10, P-12"


def test_refs_of_records_without_a_ref_say_what_they_are() -> None:
    assert in_short(sources("coat", "FC-3 · 1")) == "layer FC-3 1"
    assert in_short(sources("weather", "a", "b", "c")) == "three weather readings"


def test_a_long_list_of_refs_says_how_many_it_leaves_out() -> None:
    assert in_short(sources("sample", "S-1", "S-3", "S-5", "S-7"), most=2) == "S-1, S-3 and 2 more"


def test_refs_sort_by_their_numbers() -> None:
    assert sorted(["P-10", "P-9", "P-1"], key=in_order) == ["P-1", "P-9", "P-10"]


@pytest.mark.parametrize(
    ("shown", "said"),
    [
        ("1780 µm; 1790 µm; 1750 µm", "1780; 1790; 1750 µm"),
        ("3.1 mil", "3.1 mil"),
        ("83 µm (3.3 mil); 80 µm (3.1 mil)", "83 µm (3.3 mil); 80 µm (3.1 mil)"),
        ("90 µm; 3.1 mil", "90 µm; 3.1 mil"),
        ("none", "none"),
    ],
)
def test_values_that_share_a_unit_say_it_once(shown: str, said: str) -> None:
    assert unit_once(shown) == said


def test_no_line_ends_inside_a_coverage_factor_or_a_revision() -> None:
    assert unparted("± 2 µm, k = 2; revision 5") == (
        "±\u00a02\u00a0µm, k\u00a0=\u00a02; revision\u00a05"
    )
