"""What whole field books taught about deriving observations: one rule, one test or more."""

import pytest
from builders import make
from small_cases import areas, event, measured, pulls, required, seen, system, thick, told

from workbench.reasoning import Finding, Settings, load_knowledge, reason
from workbench.reasoning.derivation import derive
from workbench.reasoning.results import UNKNOWN, Bearing
from workbench.reasoning.scene import Scene
from workbench.reasoning.weighing import Scales, weigh
from workbench.records import (
    Answer,
    Application,
    Coat,
    Document,
    Dossier,
    LabResult,
    Measurement,
    PullOff,
    Rating,
    Record,
    SurveyEntry,
    Thickness,
)
from workbench.records.codes import Quality

KNOWLEDGE = load_knowledge()
TWO_COATS = [*system("concrete", "epoxy", "epoxy"), *areas(F="failing", N="non_failing")]


def find(key: str, *records: Record, settings: Settings | None = None) -> Finding:
    held = Dossier(records)
    return derive(Scene(held, settings or Settings.of(held)), KNOWLEDGE)[key]


# 1


def test_a_sound_side_that_breaks_only_in_the_glue_still_gives_a_contrast() -> None:
    low = pulls("F", "B/C 100", 0.4, 0.5, 0.6)
    glue = pulls("N", "Y 100", 3.1, 3.4, 2.9)
    held = find("pull_off_low_failing", *TWO_COATS, *low, *glue)
    assert held.value == "yes"
    assert "at least" in held.words


def test_glue_breaks_that_do_not_part_the_sides_leave_it_open() -> None:
    held = find(
        "pull_off_low_failing",
        *TWO_COATS, *pulls("F", "Y 100", 1.0, 1.1, 0.9), *pulls("N", "B/C 100", 3.0, 3.2, 3.1),
    )  # fmt: skip
    assert held.value == UNKNOWN


# 2


@pytest.mark.parametrize(
    ("failing", "sound", "need", "value"),
    [
        ("B/C 100", "Y 100", "1.5 MPa", "no"),
        ("B/C 100", "Y 100", "5 MPa", "yes"),
        ("Y 100", "B/C 100", "0.1 MPa", "yes"),
    ],
)
def test_glue_breaks_count_only_below_the_requirement_or_where_it_fails(
    failing: str, sound: str, need: str, value: str
) -> None:
    held = find(
        "glue_breaks_excessive",
        *TWO_COATS, required("pull_off", minimum=need),
        *pulls("F", failing, 0.5, 0.5, 0.5), *pulls("N", sound, 3.0, 3.0, 3.0),
    )  # fmt: skip
    assert held.value == value


# 3


def test_opened_blisters_and_knife_cuts_count_beside_pull_offs() -> None:
    held = find(
        "break_plane_dominant_failing",
        *TWO_COATS, *pulls("F", "B/C 100", 0.5),
        make(SurveyEntry, ref="V1", at="F.2", form="blister_opened", plane="A/B", count=6),
        make(Rating, ref="R1", location="F.3", method="ASTM D6677", rating="2", plane="A/B"),
    )  # fmt: skip
    assert held.value == "SUB_IF"
    assert {str(source).split()[0] for source in held.sources} >= {"survey_entry", "rating"}


def _bearing(share: int, cause: str = "weak-concrete") -> Bearing:
    rest = 100 - share
    held = Dossier([
        *TWO_COATS, *pulls("F", f"B/C {share}; A {rest}" if rest else "B/C 100", 0.4, 0.5, 0.6)
    ])  # fmt: skip
    scales = Scales(KNOWLEDGE, Settings.of(held), {})
    cells = weigh(KNOWLEDGE.cause[cause], derive(Scene(held, scales.settings), KNOWLEDGE), scales)
    return next(one.bearing for one in cells if one.key == "break_plane_dominant_failing")


def test_nothing_is_excluded_while_a_rival_plane_holds_a_fifth() -> None:
    assert _bearing(100) is Bearing.WOULD_EXCLUDE
    assert _bearing(90) is Bearing.WOULD_EXCLUDE
    assert _bearing(75) in (Bearing.CONTRADICTS, Bearing.SILENT)


# 4


def _laid(area: str, day: str, batch: str = "", coat: int = 2) -> Record:
    said = {"batch_a": batch} if batch else {}
    return make(Application, ref=f"A-{area}-{coat}", area=area, coat=coat, start=day, **said)


FOUR = [
    *system("concrete", "epoxy", "epoxy"),
    *areas(F="failing", G="failing", N="non_failing", M="non_failing"),
    *pulls("F", "B/C 100", 0.4),
]


def test_a_complete_separation_over_few_areas_is_yes_but_only_fair() -> None:
    held = find(
        "failing_follows_application_day",
        *FOUR, _laid("F", "2021-05-03"), _laid("G", "2021-05-03"),
        _laid("N", "2021-05-04"), _laid("M", "2021-05-05"),
    )  # fmt: skip
    assert held.value == "yes"
    assert held.quality is Quality.FAIR
    assert "too few" in held.words


def test_a_day_that_goes_with_a_batch_is_unknown_and_the_aliasing_is_said() -> None:
    held = find(
        "failing_follows_application_day",
        *FOUR, _laid("F", "2021-05-03", "B1"), _laid("G", "2021-05-03", "B1"),
        _laid("N", "2021-05-04", "B2"), _laid("M", "2021-05-04", "B2"),
    )  # fmt: skip
    assert held.value == UNKNOWN
    assert "batch" in held.words
    assert held.sources


# 5


def test_one_batch_in_failing_and_sound_areas_alike_is_no() -> None:
    held = find(
        "failing_follows_batch",
        *FOUR, _laid("F", "2021-05-03", "B1"), _laid("G", "2021-05-03", "B1"),
        _laid("N", "2021-05-04", "B1"), _laid("M", "2021-05-04", "B1"),
    )  # fmt: skip
    assert held.value == "no"


# 6


@pytest.mark.parametrize(("substrate", "value"), [("concrete", "yes"), ("wood", UNKNOWN)])
def test_the_default_strength_of_a_substrate_is_for_concrete_only(
    substrate: str, value: str
) -> None:
    bare = [
        make(PullOff, ref=f"P{at}", location=f"N.{at}", on=0, fixture="50 mm", shape="round",
             reading="0.8 MPa", breaks="A 100", method="ASTM D7234")
        for at in (1, 2, 3)
    ]  # fmt: skip
    held = find(
        "substrate_strength_low",
        *system(substrate, "epoxy"), *areas(F="failing", N="non_failing"), *bare,
    )  # fmt: skip
    assert held.value == value


# 7


@pytest.mark.parametrize(
    ("key", "records"),
    [
        ("moisture_above_limit", measured("F", "moisture", "f-carbide", "5 %", "6 %", "5 %")),
        ("profile_below_spec", measured("F", "profile_rz", "f-profile-metal", "20 um")),
        ("profile_above_spec", measured("F", "profile_rz", "f-profile-metal", "200 um")),
        ("dft_under_spec_failing", thick("F", "60", "70", "65")),
        ("pull_off_low_nonfailing", pulls("N", "B/C 100", 1.0, 1.1, 1.2)),
    ],
)
def test_without_a_requirement_there_is_no_verdict(key: str, records: list[Record]) -> None:
    assert find(key, *TWO_COATS, *records).value == UNKNOWN


def test_without_a_requirement_controls_are_compared_and_that_is_said() -> None:
    held = find(
        "pull_off_low_nonfailing",
        *system("concrete", "epoxy", "epoxy"),
        *areas(F="failing", N="non_failing", C="control"),
        *pulls("N", "B/C 100", 1.0, 1.1, 1.2), *pulls("C", "B/C 100", 4.0, 4.1, 4.2),
    )  # fmt: skip
    assert held.value == "yes"
    assert "controls" in held.words


# 8


@pytest.mark.parametrize(
    ("condition", "value"), [("dried", "yes"), ("wet", UNKNOWN), (None, UNKNOWN)]
)
def test_a_low_glass_transition_is_read_only_from_a_dried_specimen(
    condition: str | None, value: str
) -> None:
    said = {"condition": condition} if condition else {}
    film = told("F", "failing") + told("N", "non_failing")
    values = (("S-F", "41 degC"), ("S-N", "62 degC"))
    heats = [
        make(LabResult, ref=f"R-{sample}", sample=sample, method="l-dsc", quantity="tg_first",
             value=tg, **said)
        for sample, tg in values
    ]  # fmt: skip
    assert find("tg_low", *TWO_COATS, *film, *heats).value == value


@pytest.mark.parametrize(("condition", "value"), [("dried", "yes"), (None, UNKNOWN)])
def test_a_rise_on_the_second_heat_counts_only_from_a_dried_specimen(
    condition: str | None, value: str
) -> None:
    said = {"condition": condition} if condition else {}
    heats = [
        make(LabResult, ref=name, sample="S-F", method="l-dsc", quantity=name, value=tg, **said)
        for name, tg in (("tg_first", "41 degC"), ("tg_second", "60 degC"))
    ]
    film = told("F", "failing")
    assert find("residual_exotherm_present", *TWO_COATS, *film, *heats).value == value


def test_a_second_heat_that_is_normal_does_not_say_that_the_film_was_cured() -> None:
    heats = [
        make(LabResult, ref=f"R-{s}", sample=s, method="l-dsc", quantity="tg_second", value=tg)
        for s, tg in (("S-F", "61 degC"), ("S-N", "62 degC"))
    ]
    film = told("F", "failing") + told("N", "non_failing")
    assert find("tg_low", *TWO_COATS, *film, *heats).value == UNKNOWN


# 9


def test_the_sound_side_does_not_pool_controls() -> None:
    held = find(
        "break_plane_dominant_nonfailing",
        *system("concrete", "epoxy", "epoxy"),
        *areas(F="failing", N="non_failing", C="control"),
        *pulls("N", "A 100", 2.4), *pulls("C", "B/C 100", 3.0, 3.1, 3.2),
    )  # fmt: skip
    assert held.value == "SUB_COH"
    assert held.n == 1


def test_the_sound_side_is_glue_only_when_no_test_is_valid() -> None:
    glue = pulls("N", "Y 100", 3.0, 3.1)
    one = make(PullOff, ref="P-x", location="N.3", fixture="20 mm", reading="3 MPa", breaks="A 100")
    key = "break_plane_dominant_nonfailing"
    held = find(key, *TWO_COATS, *glue)
    assert held.value == "GLUE"
    assert "both pull-offs" in held.words
    assert "so the coating held at least 3.0 MPa" in held.words
    assert find(key, *TWO_COATS, *glue, one).value == "SUB_COH"


# 10


def test_thresholds_have_a_source_and_can_be_set_for_a_case() -> None:
    film = told("F", "failing", solvent__xylene="0.9 %") + told(
        "N", "non_failing", solvent__xylene="0.5 %"
    )
    key = "residual_solvent_high"
    assert find(key, *TWO_COATS, *film).value == "no"
    eased = find(key, *TWO_COATS, *film, settings=Settings(solvent_times_control=1.5))
    assert eased.value == "yes"
    assert ("solvent_times_control", "1.5") in eased.settings_used


def test_gloss_without_a_requirement_or_a_sound_side_gives_no_verdict() -> None:
    gloss = measured("F", "gloss_retention", "f-gloss-colour", "60 %")
    assert find("gloss_or_colour_change", *TWO_COATS, *gloss).value == UNKNOWN


def test_ions_without_a_control_water_give_no_verdict() -> None:
    film = told("F", "failing", fluid_ion__Cl="200 mg/L")
    assert find("blister_fluid_ionic_high", *TWO_COATS, *film).value == UNKNOWN


# 11


@pytest.mark.parametrize(("service", "value"), [("2022-03-01", "days"), ("", "months")])
def test_the_time_to_failure_runs_from_entry_into_service_where_that_is_known(
    service: str, value: str
) -> None:
    begun = [event("F", "in_service", service)] if service else []
    held = find(
        "time_to_failure",
        *TWO_COATS, _laid("F", "2021-06-01"), *begun, event("F", "first_seen", "2022-03-05"),
    )  # fmt: skip
    assert held.value == value


# 12


def test_salts_count_only_on_the_substrate_and_after_coating() -> None:
    limit = required("salts", maximum="20 mg/m2")
    steel = [*system("carbon_steel", "epoxy", "epoxy"), *areas(F="failing", N="non_failing"),
             _laid("F", "2021-05-03", coat=1), limit]  # fmt: skip

    def salts(plane: str, date: str) -> Record:
        return make(Measurement, ref="M", location="F.1", method="f-salts", quantity="salts",
                    value="90 mg/m2", plane=plane, date=date)  # fmt: skip

    key = "chloride_above_limit"
    assert find(key, *steel, salts("A/B", "2022-05-01")).value == "yes"
    assert find(key, *steel, salts("B/C", "2022-05-01")).value == UNKNOWN
    assert find(key, *steel, salts("A/B", "2021-05-01")).value == UNKNOWN


# 13


@pytest.mark.parametrize("method", ["wedge_cut", "section"])
def test_layers_are_read_from_wedge_cuts_as_well_as_from_sections(method: str) -> None:
    layers = [
        make(Coat, system="S", order=0, material="carbon_steel"),
        make(Coat, system="S", order=1, material="epoxy", dft_min="80 um", dft_max="120 um"),
    ]
    rows = [
        make(Thickness, ref=f"T{at}", location=f"F.{at}", method=method, layer="1",
             readings="30", unit="um")
        for at in (1, 2, 3)
    ]  # fmt: skip
    held = find("layer_thickness_microscopy", *layers, *areas(F="failing"), *rows)
    assert held.value == "under"


# 14


@pytest.mark.parametrize(
    ("key", "quantity", "value"),
    [("conversion_layer_deficient", "conversion_layer", "none")],
)
def test_the_conversion_layer_is_a_finding(key: str, quantity: str, value: str) -> None:
    film = told("F", "failing", **{quantity: value})
    assert find(key, *system("aluminium", "powder"), *areas(F="failing"), *film).value == "yes"


def test_resistance_to_vapour_and_disbonding_are_read_against_a_limit() -> None:
    limits = [required("sd_value", maximum="2 m"), required("disbond_radius", maximum="8 mm")]
    film = told("F", "failing", sd_value="6 m", disbond_radius="15 mm")
    case = [*TWO_COATS, *film, *limits]
    assert find("sd_value_above_limit", *case).value == "yes"
    assert find("disbond_radius_high", *case).value == "yes"


def test_cuts_after_boiling_water_are_a_finding() -> None:
    cuts = [
        make(Rating, ref=f"R{at}", location=f"F.{at}", method="ISO 2409 boiled", rating="4")
        for at in (1, 2, 3)
    ]
    assert find("wet_adhesion_poor", *TWO_COATS, *cuts).value == "yes"


# 15


def test_a_process_is_told_as_one_with_the_causes_behind_it() -> None:
    process = KNOWLEDGE.cause["osmotic-blistering"]
    assert process.process
    assert "soluble-salts-on-steel" in process.upstream


# 16


def test_a_paper_that_never_existed_is_a_fact_and_a_blank_is_unknown() -> None:
    key = "mixing_record_deficient"
    kit = [*TWO_COATS, make(Coat, system="S", order=3, material="epoxy", mix_ratio="4:1")]
    told_ = make(Document, ref="D1", name="Mix sheets", kind="mix_record", status="never_existed")
    asked = make(Document, ref="D1", name="Mix sheets", kind="mix_record", status="requested")
    assert find(key, *kit, told_).value == "yes"
    assert find(key, *kit, asked).value == UNKNOWN
    assert find(key, *kit).value == UNKNOWN


# answers


def test_an_answer_fills_a_silence_and_names_who_gave_it() -> None:
    answer = make(Answer, observation="solvent_rub_fail", value="yes", by="A. Reed", reason="seen")
    held = find("solvent_rub_fail", *TWO_COATS, answer)
    assert (held.value, held.method) == ("yes", "answer")
    assert "A. Reed" in held.words
    assert held.override is None


SOFT = measured("F", "solvent_rub", "f-solvent-rub", "fail", "fail", "fail")


def test_an_answer_overrides_the_records_only_with_a_reason_which_is_shown() -> None:
    said = {"observation": "solvent_rub_fail", "value": "no", "by": "A. Reed"}
    bare = find("solvent_rub_fail", *TWO_COATS, *SOFT, make(Answer, **said))
    assert bare.value == "yes"
    assert "gives no reason" in bare.words
    given = find("solvent_rub_fail", *TWO_COATS, *SOFT, make(Answer, **said, reason="wrong cloth"))
    assert given.value == "no"
    assert given.override
    assert given.override.derived == "yes"
    assert "wrong cloth" in given.words


def test_an_answer_for_a_sound_area_speaks_for_the_sound_side() -> None:
    answer = make(Answer, observation="solvent_rub_fail", value="no", area="N", by="A", reason="x")
    held = find("solvent_rub_fail", *TWO_COATS, *SOFT, answer)
    assert (held.value, held.sound) == ("yes", "no")
    assert held.contrasted


def test_answers_that_differ_from_area_to_area_settle_nothing() -> None:
    case = [*system("concrete", "epoxy"), *areas(F="failing", G="failing")]
    answers = [
        make(Answer, observation="tacky_or_soft_film", value=value, area=area, by="A", reason="x")
        for area, value in (("F", "yes"), ("G", "no"))
    ]
    held = find("tacky_or_soft_film", *case, *answers)
    assert held.value == UNKNOWN
    assert "differ" in held.words


# whole findings


def test_every_finding_that_is_known_has_records_and_words() -> None:
    held = Dossier([*TWO_COATS, *seen("F", peeling_sheets="40"), *pulls("F", "B/C 100", 0.4, 0.5)])
    for finding in reason(held).findings:
        assert finding.words
        if finding.known:
            assert finding.sources
            assert finding.quality
            assert all(held.resolve(source) for source in finding.sources)


def test_a_sign_that_was_not_looked_for_is_unknown_and_one_not_found_is_no() -> None:
    key = "greasy_or_sticky_lower_face"
    assert find(key, *TWO_COATS).value == UNKNOWN
    assert find(key, *TWO_COATS, *seen("F", greasy_face="0")).value == "no"
    assert find(key, *TWO_COATS, *seen("F", greasy_face="yes")).value == "yes"


def test_a_value_that_no_key_knows_is_told_and_not_used() -> None:
    odd = make(SurveyEntry, ref="V", at="F", form="blister_contents=lemonade")
    held = find("blister_contents", *TWO_COATS, odd)
    assert held.value == UNKNOWN
    assert "lemonade" in held.words


def test_a_case_without_records_says_nothing_and_falls_over_nothing() -> None:
    found = reason(Dossier())
    assert not [one for one in found.findings if one.known]
    assert found.leaders == ()
    assert found.verdict == "No area is recorded as failing, so no cause is sought."
