"""Doubts: each kind once in a hand-made case, nothing on blanks, answers decide."""

import pytest
from builders import dossier, make
from doubtful_case import EXPECTED, doubtful_case
from hypothesis import given
from hypothesis import strategies as st

from workbench.analysis.doubts import Rule, doubts_of, effects_of
from workbench.records import (
    Application,
    Area,
    AreaEvent,
    Coat,
    DoubtAnswer,
    Effect,
    Instrument,
    LabResult,
    Limit,
    Location,
    Measurement,
    PullOff,
    Rating,
    Record,
    Sample,
    Source,
    Thickness,
    Weather,
)
from workbench.records.codes import PullOffMethod
from workbench.trade.basis import Status
from workbench.trade.settings import Settings
from workbench.trade.showing import Showing, System

FLOOR = (
    make(Area, ref="A1", condition="failing", system="S"),
    make(Location, ref="L1", area="A1"),
    make(Coat, system="S", order=0, material="concrete"),
    make(Coat, system="S", order=1, material="epoxy", dft_nominal="300 um"),
)


def _rules(*records: Record, settings: Settings | None = None) -> set[Rule]:
    found = doubts_of(dossier(*FLOOR, *records), settings)
    return {doubt.rule for doubt in found if doubt.rule is not Rule.TOO_FEW}


def test_each_kind_of_doubt_is_raised_exactly_once() -> None:
    found = [(doubt.rule, str(doubt.source)) for doubt in doubts_of(doubtful_case())]
    assert sorted(found) == sorted(EXPECTED.items())
    assert set(EXPECTED) == set(Rule)


def test_every_doubt_names_a_record_its_reason_and_its_basis() -> None:
    held = doubtful_case()
    for doubt in doubts_of(held):
        assert held.resolve(doubt.source)
        assert doubt.words
        assert doubt.basis.source or doubt.basis.status is Status.PRACTICE


@pytest.mark.parametrize(
    ("ref", "effect"),
    [
        ("P-glue", Effect.LOWER_BOUND),
        ("P-calibration", Effect.NONE),
        ("P-uncut", Effect.NONE),
        ("P-unread", Effect.NONE),
        ("P-fast", Effect.NONE),
    ],
)
def test_what_a_doubt_does_to_the_reading(ref: str, effect: Effect) -> None:
    """Nothing is set aside before a person decides; a lower bound lies in the reading itself."""
    assert effects_of(doubts_of(doubtful_case()))[Source("pull_off", ref)] is effect


def test_a_sound_reading_is_in_no_doubt() -> None:
    assert Source("pull_off", "P-sound") not in effects_of(doubts_of(doubtful_case()))


def test_a_person_answers_a_doubt_and_the_answer_holds() -> None:
    answer = make(
        DoubtAnswer,
        about="pull_off P-calibration",
        rule="instrument out of calibration",
        effect="none",
        reason="found within tolerance when calibrated on 2024-06-01",
        by="A. Person",
    )
    held = doubtful_case().with_records([answer])
    (doubt,) = [one for one in doubts_of(held) if one.rule is Rule.CALIBRATION]
    assert doubt.answer == answer
    assert not doubt.is_open
    assert (doubt.effect, doubt.holds) == (Effect.SET_ASIDE, Effect.NONE)
    assert effects_of(doubts_of(held))[doubt.source] is Effect.NONE


def test_an_answer_to_one_doubt_leaves_the_others_of_the_record() -> None:
    answer = make(
        DoubtAnswer, about="pull_off P-uncut", rule="pooled across methods", effect="none",
        reason="told apart in the report", by="A. Person",
    )  # fmt: skip
    held = doubtful_case().with_records([answer])
    (waiting,) = [one for one in doubts_of(held) if one.rule is Rule.NOT_CUT_ROUND]
    assert waiting.source == Source("pull_off", "P-uncut")
    assert waiting.waits


def test_an_answer_without_a_reason_is_a_fault() -> None:
    answer = make(DoubtAnswer, about="pull_off P-1", rule="x", effect="none", reason=" ", by="A")
    assert [fault.field for fault in answer.faults()] == ["reason"]


def test_a_withdrawn_reading_is_in_no_doubt() -> None:
    pull = make(PullOff, breaks="Y 100", reading="2 MPa", withdrawn="entered twice")
    assert _rules(pull) == set()


@pytest.mark.parametrize("method", PullOffMethod)
def test_blanks_raise_no_doubt_about_what_they_leave_unknown(method: str) -> None:
    pull = make(PullOff, method=method, reading="2 MPa", breaks="B 100")
    assert _rules(pull) == set()


def test_the_glue_limit_is_a_choice() -> None:
    pull = make(PullOff, reading="2 MPa", breaks="Y 40; B 60")
    assert _rules(pull) == set()
    assert _rules(pull, settings=Settings(glue_limit_percent=25)) == {Rule.GLUE_SHARE}


def test_half_glue_is_not_yet_over_the_limit() -> None:
    assert _rules(make(PullOff, reading="2 MPa", breaks="Y 50; B 50")) == set()


def test_the_cure_of_the_glue_is_that_of_its_data_sheet_where_there_is_one() -> None:
    pull = make(PullOff, reading="2 MPa", breaks="B 100", glue="fast epoxy", cure="4")
    sheet = make(
        Limit, quantity="glue_cure", applies_to="fast epoxy", minimum="3 h", source_text="sheet"
    )
    assert _rules(pull) == {Rule.GLUE_CURE}
    assert _rules(pull, sheet) == set()


@pytest.mark.parametrize(
    ("due", "doubted"), [("2024-05-05", True), ("2024-05-06", False), ("2024-05", False)]
)
def test_an_instrument_is_in_calibration_until_the_end_of_the_due_day(
    due: str, doubted: bool
) -> None:
    pull = make(PullOff, reading="2 MPa", breaks="B 100", date="2024-05-06", instrument="I1")
    instrument = make(Instrument, ref="I1", kind="tester", due=due)
    assert (Rule.CALIBRATION in _rules(pull, instrument)) is doubted


def test_an_instrument_calibrated_only_afterwards_is_doubted() -> None:
    pull = make(PullOff, reading="2 MPa", breaks="B 100", date="2024-05-06", instrument="I1")
    instrument = make(Instrument, ref="I1", kind="tester", calibrated="2024-06-01")
    assert Rule.CALIBRATION in _rules(pull, instrument)


def test_a_thick_film_by_reading_asks_for_a_cut_where_the_specified_one_did_not() -> None:
    pull = make(PullOff, method="ASTM D7234", reading="2 MPa", breaks="B 100", cut_round="no")
    assert _rules(pull) == set()
    thick = make(Thickness, method="ultrasonic", readings="800; 820; 790")
    assert _rules(pull, thick) == {Rule.NOT_CUT_ROUND}


def test_a_thick_film_without_a_word_on_cutting_is_doubted_mildly() -> None:
    pull = make(PullOff, method="ASTM D7234", reading="2 MPa", breaks="B 100")
    thick = make(Thickness, method="ultrasonic", readings="800; 820; 790")
    (doubt,) = [
        one for one in doubts_of(dossier(*FLOOR, pull, thick)) if one.rule is Rule.NOT_CUT_ROUND
    ]
    assert doubt.effect is Effect.NONE
    assert "not recorded" in doubt.words


def test_an_elastic_coat_asks_for_a_cut_however_thin() -> None:
    elastic = make(Coat, system="S", order=2, material="elastomeric_acrylic", dft_nominal="80 um")
    pull = make(PullOff, method="ASTM D4541", reading="2 MPa", breaks="B 100", cut_round="no")
    assert _rules(pull, elastic) == {Rule.NOT_CUT_ROUND}


def test_a_core_too_shallow_is_told_with_its_depth() -> None:
    pull = make(PullOff, method="EN 1542", reading="2 MPa", breaks="A 100", cut_round="6 mm")
    (doubt,) = [d for d in doubts_of(dossier(*FLOOR, pull)) if d.rule is Rule.NOT_CUT_ROUND]
    assert doubt.words == "cut 6 mm deep; EN 1542 asks for 10 mm"


@pytest.mark.parametrize(
    ("event", "start", "end", "wet"),
    [
        ("washed", "2024-05-05 20:00", None, True),
        ("washed", "2024-05-03", None, False),
        ("washed", "2024-01-01", "2024-12-31", False),
        ("stored", "2024-05-06", None, False),
    ],
)
def test_a_surface_counts_as_wet_for_a_day_after_wetting(
    event: str, start: str, end: str | None, wet: bool
) -> None:
    pull = make(PullOff, reading="2 MPa", breaks="B 100", date="2024-05-06")
    said = {"end": end} if end else {}
    happened = make(AreaEvent, area="A1", event=event, start=start, **said)
    assert (Rule.SURFACE_WET in _rules(pull, happened)) is wet


def test_a_surface_below_the_dew_point_counts_as_wet() -> None:
    pull = make(PullOff, reading="2 MPa", breaks="B 100", date="2024-05-06")
    row = make(
        Weather, time="2024-05-06 09:00", area="A1", air="20 degC", humidity="80 %",
        surface="16 degC",
    )  # fmt: skip
    assert _rules(pull, row) == {Rule.SURFACE_WET}


def test_rain_wets_only_what_lies_outdoors() -> None:
    pull = make(PullOff, reading="2 MPa", breaks="B 100", date="2024-05-06")
    row = make(Weather, time="2024-05-06 09:00", rain="yes")
    assert _rules(pull, row) == set()
    outdoors = make(Area, ref="A1", condition="failing", system="S", features="outdoor")
    found = doubts_of(dossier(outdoors, *FLOOR[1:], pull, row))
    assert Rule.SURFACE_WET in {doubt.rule for doubt in found}


def test_a_control_sample_needs_no_control() -> None:
    control = make(Sample, ref="S1", at="L1", purpose="control")
    assert _rules(control, make(LabResult, quantity="ftir_extra_bands")) == set()


def test_a_depth_that_is_missing_sets_the_reading_aside() -> None:
    reading = make(Measurement, quantity="rh_in_slab", value="85 %")
    (doubt,) = [d for d in doubts_of(dossier(*FLOOR, reading)) if d.rule is Rule.MOISTURE_DEPTH]
    assert doubt.effect is Effect.SET_ASIDE


def test_readings_with_a_matched_area_have_their_contrast() -> None:
    sound = [make(Area, ref="A2", condition="control"), make(Location, ref="L2", area="A2")]
    salts = [
        make(Measurement, ref=f"M{at}", location=f"L{at}", quantity="salts", value="40 mg/m2")
        for at in (1, 2)
    ]
    assert _rules(salts[0]) == {Rule.NO_CONTRAST}
    assert _rules(*sound, *salts) == set()


def test_the_words_are_in_the_units_of_the_case() -> None:
    found = doubts_of(doubtful_case(), showing=Showing(System.US))
    words = {doubt.rule: doubt.words for doubt in found}
    assert words[Rule.TOO_FAST] == "58 psi/s; ASTM D7234 asks for at most 29 psi/s"
    assert "0.79 in" in words[Rule.RESCALED]


@given(
    st.sampled_from(list(PullOffMethod)),
    st.sampled_from(["2 MPa", "350 psi", "900 N", "2", "3 mm"]),
    st.sampled_from([None, "50 mm", "2 in", "50", "3 s"]),
    st.sampled_from([None, "20 mm", "20"]),
    st.sampled_from([None, "A 100", "B 50; ? 50", "Y 100"]),
    st.sampled_from([None, "yes", "no", "12 mm", "12 s"]),
)
def test_whatever_is_recorded_the_doubts_can_be_told(
    method: str,
    reading: str,
    fixture: str | None,
    calibrated: str | None,
    breaks: str | None,
    cut: str | None,
) -> None:
    said = {"fixture": fixture, "calibrated_for": calibrated, "breaks": breaks, "cut_round": cut}
    known = {name: value for name, value in said.items() if value is not None}
    pull = make(PullOff, method=method, reading=reading, seconds="10", cure="2", **known)
    for doubt in doubts_of(dossier(*FLOOR, pull)):
        assert doubt.words


def test_a_rating_by_the_knife_is_on_its_scale() -> None:
    assert _rules(make(Rating, method="ASTM D6677", rating="8")) == set()
    assert _rules(make(Rating, method="ASTM D6677", rating="5")) == {Rule.OFF_SCALE}


def test_a_place_typed_with_x_and_y_exchanged_is_told_as_such() -> None:
    area = make(Area, ref="A9", outline="0 0; 12 0; 12 3; 0 3")
    place = make(Location, ref="L9", area="A9", x="2 m", y="9 m")
    (doubt,) = doubts_of(dossier(area, place))
    assert doubt.words == "x 2 m, y 9 m is 6.0 m outside A9; with x and y exchanged it is inside"


def test_no_glue_holds_450_mpa_so_the_reading_is_set_aside() -> None:
    pull = make(PullOff, reading="450 MPa", breaks="B 100", cut_round="yes")
    found = [one for one in doubts_of(dossier(*FLOOR, pull)) if one.rule is Rule.STRESS_FAR]
    assert [one.effect for one in found] == [Effect.SET_ASIDE]


def test_weak_readings_in_the_usual_unit_are_not_slips() -> None:
    pulls = [
        make(PullOff, ref=f"P{n}", reading=text, breaks="B 100")
        for n, text in enumerate(("0.1 MPa", "8.0 MPa", "8.2 MPa", "8.4 MPa"))
    ]
    assert Rule.STRESS_FAR not in _rules(*pulls)


def test_a_test_of_an_old_film_may_be_older_than_the_new_coat() -> None:
    laid = make(Application, area="A1", coat=2, start="2024-06-01")
    old = make(Coat, system="S", order=1, material="epoxy", existing="yes")
    new = make(Coat, system="S", order=2, material="epoxy")
    read = make(Thickness, date="2024-05-01", readings="300; 310; 290")
    held = dossier(FLOOR[0], FLOOR[1], FLOOR[2], old, new, laid, read)
    assert Rule.BEFORE_COAT not in {one.rule for one in doubts_of(held)}


def test_a_control_that_has_no_result_of_the_quantity_is_a_doubt() -> None:
    def found_beside(*more: Record, value: str = "present", quantity: str = "solvent:x") -> bool:
        film = (
            make(Sample, ref="S1", kind="film", at="L1", purpose="failing"),
            make(Sample, ref="S3", kind="film", purpose="non-failing"),
            make(LabResult, ref="R1", sample="S1", method="l-gcms", quantity=quantity,
                 value=value, control="S3"),
        )  # fmt: skip
        return Rule.NO_CONTROL in _rules(*film, *more)

    read = make(LabResult, ref="R2", sample="S3", method="l-gcms", quantity="solvent:x",
                value="none")  # fmt: skip
    assert found_beside()
    assert not found_beside(read)
    assert not found_beside(value="none")
    assert not found_beside(quantity="petro_gel", value="present")
