"""Levels and sides: what lies on which, and what a plan of one of them shows."""

from builders import make

from workbench.records import Area, Dossier, Location, Outline, Quantity, SitePlan
from workbench.records.levels import each_level, levels_of, on_level, places_of

OUTLINE = Outline.read("0 0; 9 0; 9 9")
AT = {"x": Quantity("1", "m"), "y": Quantity("1", "m")}


def two_levels() -> list[Area | Location | SitePlan]:
    px = {"x0": Quantity("0"), "y0": Quantity("0"), "x1": Quantity("10"), "y1": Quantity("0")}
    return [
        make(SitePlan, file="plan/ground.png", length=Quantity("10", "m"), **px),
        make(SitePlan, file="plan/deck.png", length=Quantity("10", "m"), **px),
        make(Area, ref="A1", outline=OUTLINE, level="ground"),
        make(Area, ref="A2", outline=OUTLINE),
        make(Location, ref="L1", area="A1", level="ground", **AT),
        make(Location, ref="L2", area="A2", level="deck", **AT),
    ]


def test_a_level_keeps_its_own_plan_outlines_and_coordinates_and_loses_no_record() -> None:
    dossier = Dossier(two_levels())
    assert levels_of(dossier) == ("ground", "deck")
    deck = on_level(dossier, "deck")
    assert [plan.file for plan in deck.all(SitePlan)] == ["plan/deck.png"]
    assert places_of(deck) == {"A2", "L2"}
    assert len(deck.everything(withdrawn=True)) == len(dossier.everything())
    assert places_of(on_level(dossier, "ground")) == {"A1", "L1"}


def test_a_place_that_names_no_level_where_others_do_has_a_plan_of_its_own() -> None:
    dossier = Dossier([*two_levels(), make(Location, ref="L3", area="A2", **AT)])
    assert list(each_level(dossier)) == ["ground", "deck", ""]
    assert "L3" in places_of(each_level(dossier)[""])


def test_a_site_with_one_level_is_not_parted() -> None:
    dossier = Dossier([make(Location, ref="L1", area="A1", level="ground", **AT)])
    assert each_level(dossier) == {"": dossier}
