"""How far a reading goes: what it is beside its control, its limit, its system and its place."""

from collections.abc import Sequence

import pytest
from builders import make
from small_cases import areas, event, measured, pulls, required, system, thick

from workbench.reasoning import Finding, Settings, load_knowledge
from workbench.reasoning.amended import amended
from workbench.reasoning.derivation import derive
from workbench.reasoning.results import UNKNOWN
from workbench.reasoning.scene import Scene
from workbench.records import (
    Application,
    Area,
    Coat,
    Dossier,
    LabResult,
    Limit,
    Location,
    PullOff,
    Record,
    Sample,
    SurveyEntry,
)
from workbench.records.codes import Quality

KNOWLEDGE = load_knowledge()
TANK = [*system("carbon_steel", "epoxy", "epoxy"), *areas(F="failing", N="non_failing")]


def find(key: str, *records: Record) -> Finding:
    held = Dossier(records)
    return derive(Scene(held, Settings.of(held)), KNOWLEDGE)[key]


def _results(quantity: str, here: str, there: str | None, face: str = "") -> list[Record]:
    """Return a result on a failing sample that names a sound one as control, read or not."""
    said = {"face": face} if face else {}
    held: list[Record] = [
        make(Sample, ref="S1", kind="film", at="F.1", purpose="failing"),
        make(Sample, ref="S3", kind="film", at="N.1", purpose="non-failing"),
        make(LabResult, ref="R1", sample="S1", method="l-gcms", quantity=quantity, value=here,
             control="S3", **said),
    ]  # fmt: skip
    if there is not None:
        held.append(make(LabResult, ref="R2", sample="S3", method="l-gcms", quantity=quantity,
                         value=there, **said))  # fmt: skip
    return held


# a result beside its control


@pytest.mark.parametrize(
    ("there", "value"), [(None, UNKNOWN), ("present", "no"), ("none", "yes"), ("0 %", "yes")]
)
def test_solvent_that_is_present_exceeds_a_control_only_where_that_was_read_and_lacks_it(
    there: str | None, value: str
) -> None:
    held = find("residual_solvent_high", *TANK, *_results("solvent:xylene", "present", there))
    assert held.value == value
    if there is None:
        assert "S3, named as control, has no result of it" in held.words


@pytest.mark.parametrize(
    ("key", "quantity", "yes"),
    [
        ("ftir_extra_band_on_back_face", "ftir_extra_bands", "yes"),
        ("eds_elements_on_back_face", "eds:Cl", "sodium_chloride"),
    ],
)
def test_what_is_found_on_the_face_needs_its_control_read_for_the_same(
    key: str, quantity: str, yes: str
) -> None:
    lacking = find(key, *TANK, *_results(quantity, "present", None, "A/B@B"))
    assert lacking.value == UNKNOWN
    assert "S3" in lacking.words
    assert find(key, *TANK, *_results(quantity, "present", "none", "A/B@B")).value == yes


def test_a_named_control_of_another_quantity_is_no_control() -> None:
    film = _results("fluid_ion:Cl", "200 mg/L", None)
    other = make(LabResult, ref="R9", sample="S3", method="l-ic", quantity="fluid_ion:Na",
                 value="20 mg/L")  # fmt: skip
    held = find("blister_fluid_ionic_high", *TANK, *film, other)
    assert held.value == UNKNOWN
    assert "S3, named as control, has no result of them" in held.words


# when failing came, and when it was first seen


def _seen_after(features: str, *more: Record, quality: str = "good") -> Finding:
    return find(
        "time_to_failure",
        *system("carbon_steel", "epoxy"), *areas(features, F="failing"),
        make(Application, ref="A1", area="F", coat=1, start="2024-05-28"),
        event("F", "in_service", "2024-06-24"), *more,
        event("F", "first_seen", "2026-01-30", quality=quality),
    )  # fmt: skip


def test_first_seen_under_water_is_only_the_latest_that_failing_can_have_come() -> None:
    held = _seen_after("immersed")
    assert held.value == UNKNOWN
    assert "out of sight until then" in held.words
    assert _seen_after("indoor").value == "one_to_five_years"


@pytest.mark.parametrize(
    ("begun", "seen_on", "value"),
    [
        ("2022-06-01", "2022-06-01", "during_application"),
        ("2022-06-01", "2022-06-02", UNKNOWN),
        ("2022-06-01", "2022-06-04", "days"),
        ("2022-06", "2022-08", UNKNOWN),
        ("2022-06", "2023-01", "months"),
    ],
)
def test_a_band_is_concluded_only_where_the_dates_leave_no_other(
    begun: str, seen_on: str, value: str
) -> None:
    held = find(
        "time_to_failure",
        *system("carbon_steel", "epoxy"), *areas("outdoor", F="failing"),
        make(Application, ref="A1", area="F", coat=1, start=begun),
        event("F", "first_seen", seen_on),
    )  # fmt: skip
    assert held.value == value
    assert held.known or "the dates leave" in held.words


def test_a_look_that_found_it_sound_bounds_when_failing_came() -> None:
    looked = event("F", "first_seen", "2025-09-01", value="no")
    assert _seen_after("immersed", looked).value == "one_to_five_years"
    early = event("F", "first_seen", "2024-12-01", value="no")
    assert _seen_after("immersed", early).value == UNKNOWN


@pytest.mark.parametrize("quality", ["good", "fair", "poor"])
def test_the_time_to_failure_is_as_good_as_the_record_of_when_it_was_seen(quality: str) -> None:
    assert _seen_after("indoor", quality=quality).quality is Quality(quality)


def test_a_film_out_of_sight_is_not_said_to_have_outlived_its_life_when_it_failed() -> None:
    def aged(features: str) -> str:
        return find(
            "age_exceeds_expected_life",
            *system("carbon_steel", "epoxy"), *areas(features, F="failing"),
            make(Application, ref="A1", area="F", coat=1, start="2010-05-28"),
            required("expected_life", minimum="3650 d"), event("F", "first_seen", "2024-01-30"),
        ).value  # fmt: skip

    assert aged("outdoor") == "yes"
    assert aged("immersed") == UNKNOWN


# thickness


def test_nothing_is_short_only_where_no_single_reading_is() -> None:
    need = required("dft_total", minimum="450 um")
    spots = thick("F", "520; 545", "610; 640", "430; 445; 470; 520; 418", "560; 575")
    low = find("dft_under_spec_failing", *TANK, need, *spots)
    assert low.value == UNKNOWN
    assert "smallest single reading is 418 µm" in low.words
    whole = find("dft_under_spec_failing", *TANK, need, *thick("F", "520; 545", "455; 470"))
    assert whole.value == "no"


def test_nothing_is_too_thick_only_where_no_single_reading_is() -> None:
    most = required("dft_total", maximum="900 um")
    high = find("dft_over_spec_failing", *TANK, most, *thick("F", "820; 940", "700; 760"))
    assert high.value == UNKNOWN
    assert "largest single reading is 940 µm" in high.words
    assert find("dft_over_spec_failing", *TANK, most, *thick("F", "820; 840")).value == "no"


# patterns


def _days(*laid: tuple[str, str], more: Sequence[Record] = ()) -> Finding:
    named = dict.fromkeys(area for area, _ in laid)
    conditions = {one: "failing" if one in "FG" else "non_failing" for one in named if one != "X"}
    return find(
        "failing_follows_application_day",
        *system("carbon_steel", "epoxy"), *areas(**conditions), *more,
        *(make(Application, ref=f"A{area}", area=area, coat=1, start=day) for area, day in laid),
    )  # fmt: skip


def test_one_failing_area_shows_no_pattern_by_day() -> None:
    held = _days(("F", "2024-05-25"), ("N", "2024-05-24"))
    assert held.value == UNKNOWN
    assert "two are needed" in held.words
    assert _days(("F", "2024-05-25"), ("G", "2024-05-25"), ("N", "2024-05-24")).value == "yes"


def test_a_sound_area_of_another_system_has_no_part_in_a_pattern() -> None:
    other = [make(Area, ref="X", condition="non-failing", system="OTHER"),
             make(Coat, system="OTHER", order=1, material="epoxy")]  # fmt: skip
    held = _days(("F", "2024-05-25"), ("G", "2024-05-25"), ("X", "2024-06-05"), more=other)
    assert held.value == UNKNOWN


# counts and strengths


def test_field_and_laboratory_readings_of_one_place_are_one_place() -> None:
    fluid = [
        *measured("F", "ph_fluid", "f-blister-open", "7.4 pH", "7.1 pH"),
        make(Sample, ref="S4", kind="fluid", at="F.2", purpose="failing"),
        make(LabResult, ref="R4", sample="S4", method="l-fluid", quantity="fluid_ph",
             value="7.2 pH"),
    ]  # fmt: skip
    held = find("blister_fluid_ph_band", *TANK, *fluid)
    assert held.n == 2
    assert "at 2 places" in held.words


def test_pull_offs_are_told_apart_from_openings() -> None:
    held = find(
        "break_plane_dominant_failing", *TANK, *pulls("F", "A/B 60; B 40", 2.0, 3.0),
        make(SurveyEntry, ref="V1", at="F.2", form="blister_opened", plane="A/B", count=2),
    )  # fmt: skip
    assert "2 pull-offs parted 60 % of the face at A/B" in held.words
    assert "2 knife tests and openings parted 100 % of the face at A/B" in held.words


def test_a_share_just_below_the_whole_is_told_as_over_99_percent() -> None:
    held = find("break_plane_dominant_failing", *TANK, *pulls("F", "A/B 99.7; B 0.3", 2.0, 3.0))
    assert "2 pull-offs parted over 99 % of the face at A/B" in held.words


def test_a_requirement_is_held_against_its_own_system_and_glue_breaks_are_bounds() -> None:
    other = [
        make(Area, ref="X", condition="non-failing", system="OTHER"),
        make(Location, ref="X.1", area="X"), make(Coat, system="OTHER", order=1, material="epoxy"),
        make(PullOff, ref="P-X", location="X.1", fixture="20 mm", shape="round",
             reading="30 MPa", breaks="B 100"),
    ]  # fmt: skip
    held = find(
        "pull_off_low_nonfailing", *other, *TANK, required("pull_off", minimum="5 MPa"),
        *pulls("N", "Y 100", 8.0, 12.0), *pulls("F", "A/B 100", 1.0),
    )  # fmt: skip
    assert held.value == "no"
    assert "at least 10.0 MPa, the median of 2 readings" in held.words
    assert "pull_off P-X" not in {str(one) for one in held.sources}


# cure and substrate


@pytest.mark.parametrize(
    ("surface", "start", "value"),
    [
        ("10 degC", "2024-06-20", "no"),
        ("10 degC", "2024-06-07", UNKNOWN),
        ("20 degC", "2024-06-07", "no"),
        ("10 degC", "2024-06-02", "yes"),
        ("", "2024-06-20", UNKNOWN),
    ],
)
def test_the_cure_time_is_taken_at_the_temperature_that_was(
    surface: str, start: str, value: str
) -> None:
    said = {"surface": surface} if surface else {}
    held = find(
        "early_service_before_cure",
        *system("carbon_steel", "epoxy"), *areas(F="failing"),
        make(Limit, quantity="cure_to_service", applies_to="S", at_temperature="20 degC",
             minimum="168 h", source_text="data sheet"),
        make(Application, ref="A1", area="F", coat=1, start="2024-05-28", **said),
        event("F", "immersed", start),
    )  # fmt: skip
    assert held.value == value
    if not surface:
        assert "168 h at 20.0 °C required; the temperature is not recorded" in held.words


def test_osmosis_on_steel_asks_for_no_alkali_and_speaks_of_no_concrete() -> None:
    def osmosis(substrate: str) -> tuple[str, set[str]]:
        held = Dossier([*system(substrate, "epoxy"), *areas(F="failing")])
        cause = amended(KNOWLEDGE, held).cause["osmotic-blistering"]
        told_ = f"{cause.mechanism} {cause.remedy} {cause.failing_shows} {cause.sound_shows}"
        fluid = cause.of("blister_fluid_ph_band")
        return told_, {v for one in fluid if one.direction == "likely" for v in one.values}

    steel, wanted = osmosis("carbon_steel")
    assert not wanted
    assert not [word for word in ("concrete", "cement", "paste", "barrier") if word in steel]
    concrete, wanted = osmosis("concrete")
    assert wanted == {"alkaline", "strongly_alkaline"}
    assert "cement alkali" in concrete
