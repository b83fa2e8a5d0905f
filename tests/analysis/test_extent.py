"""Areas by outline and size, the share that fails, and what to allow for a repair."""

import pytest
from builders import dossier, make

from workbench.analysis.extent import extent_of, repair_quantity
from workbench.records import Area, SitePlan, SurveyEntry
from workbench.trade.plan_scale import PlanScale


def plan(x1: str = "1300", y1: str = "900") -> SitePlan:
    return make(SitePlan, file="plan.png", x0="100", y0="900", x1=x1, y1=y1, length="60 m")


def test_two_points_a_known_distance_apart_give_the_scale_and_the_origin() -> None:
    scale = PlanScale.of(plan())
    assert scale.metres_per_px == pytest.approx(0.05)
    assert scale.metres(100, 900) == (0, 0)
    assert scale.metres(700, 100) == pytest.approx((30, 40))
    assert scale.edges(1400, 1000) == pytest.approx((-5, 65, -5, 45))


def test_the_drawing_stays_upright_whichever_way_the_two_points_lie() -> None:
    assert PlanScale.of(plan("100", "100")).metres(180, 900) == pytest.approx((6, 0))


def test_an_area_is_taken_from_its_size_or_its_outline_with_holes_left_out() -> None:
    drawn = make(Area, ref="A1", outline="0 0; 10 0; 10 10; 0 10 | 4 4; 6 4; 6 6; 4 6")
    stated = make(Area, ref="A2", size="1076.391 ft2")
    one, other = extent_of(dossier(drawn, stated)).areas
    assert (one.size_m2, one.size_from) == (96, "outline")
    assert other.size_m2 == pytest.approx(100, rel=1e-6)


def test_a_size_that_differs_from_its_outline_is_told() -> None:
    area = make(Area, size="150 m2", outline="0 0; 10 0; 10 10; 0 10")
    (found,) = extent_of(dossier(area)).areas
    assert found.remarks == ("Size and outline differ: 150 m² stated, 100 m² drawn.",)


def test_an_area_within_another_is_not_counted_twice() -> None:
    outer = make(Area, ref="A1", size="100 m2")
    inner = make(Area, ref="A2", size="20 m2", within="A1")
    half = make(SurveyEntry, ref="V1", at="A1", form="delamination", extent="50")
    whole = make(SurveyEntry, ref="V2", at="A2", form="delamination", extent="100")
    found = extent_of(dossier(outer, inner, half, whole))
    assert [one.own_m2 for one in found.areas] == [80, 20]
    assert found.failing_m2 == 60


def test_hidden_loss_found_by_sounding_counts() -> None:
    area = make(Area, size="200 m2")
    seen = make(SurveyEntry, ref="V1", at="A1", form="peeling_sheets", extent="20")
    hollow = make(SurveyEntry, ref="V2", at="A1", form="hollow", extent="45")
    (found,) = extent_of(dossier(area, seen, hollow)).areas
    assert (found.visible, found.sounded) == (0.2, 0.45)
    assert found.failing_m2 == pytest.approx(90)


def test_unknown_is_not_none() -> None:
    blank, none = make(Area, ref="A1", size="10 m2"), make(Area, ref="A2", size="10 m2")
    looked = make(SurveyEntry, at="A2", form="delamination", extent="0")
    found = extent_of(dossier(blank, none, looked))
    assert found.not_known == ("A1",)
    assert [one.share for one in found.areas] == [None, 0]


def test_pieces_that_were_sampled_have_the_interval_of_all_the_pieces() -> None:
    """2 of 10 looked at of 50 pieces: 2 to 26 of 50 (hypergeometric, computed)."""
    area = make(Area, size="50 pieces")
    counted = make(SurveyEntry, at="A1", form="flaking", count=2, looked_at=10)
    (found,) = extent_of(dossier(area, counted)).areas
    assert found.sampled is not None
    assert (found.sampled.low * 50, found.sampled.high * 50) == pytest.approx((2, 26))
    assert found.size_m2 is None


def test_a_repair_adds_edges_and_a_margin_and_never_exceeds_the_whole() -> None:
    area = make(Area, size="100 m2")
    seen = make(SurveyEntry, at="A1", form="delamination", extent="60")
    extent = extent_of(dossier(area, seen))
    plain = repair_quantity(extent, edges=0.1, margin=0.2)
    assert plain.whole_m2 == pytest.approx(78)
    assert repair_quantity(extent, edges=0.5, margin=0.5).whole_m2 == 100
