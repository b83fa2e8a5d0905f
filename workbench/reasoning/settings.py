"""The thresholds of the reasoning, each with its unit and where it comes from.

A requirement of the case (its `limits`, `coats` and `recoat` sheets) goes before any of these.
"""

from dataclasses import dataclass, field, fields

from workbench.records import CaseEntry, Dossier
from workbench.trade.settings import settings_of

_KEY = "threshold"


def _threshold(default: float, unit: str, words: str, source: str) -> float:
    told = {"unit": unit, "words": words, "source": source}
    return field(default=default, metadata=told)


def _number(text: str, default: float) -> float:
    try:
        return float(text)
    except ValueError:
        return default


_PRACTICE = "common practice, no source"
_OWN = "this program's own rule, no source"


@dataclass(frozen=True, slots=True, kw_only=True)
class Settings:
    """Thresholds that decide findings and grades where the case has no requirement."""

    dew_margin_k: float = _threshold(
        3.0, "K", "smallest margin of the surface above the dew point", "common practice (3 °C)"
    )
    poor_date_d: float = _threshold(
        2.0, "d", "days by which a date of a reconstructed log may be off", _OWN
    )
    washed_face_d: float = _threshold(
        7.0, "d", "days in the weather after which a soluble deposit may be gone", _OWN
    )
    early_cure_h: float = _threshold(
        12.0, "h", "hours after a coat in which dew and humidity count", _OWN
    )
    cure_watch_h: float = _threshold(
        168.0, "h", "hours after a coat in which cold counts, where no cure time is given", _OWN
    )
    humid_share: float = _threshold(
        0.10, "", "share of readings above the humidity limit that counts", _OWN
    )
    wet_film_h: float = _threshold(4.0, "h", "hours after a coat in which the film is wet", _OWN)
    even_patches: float = _threshold(
        1.5, "", "ratio of the largest to the smallest of patches of one size", _OWN
    )
    warming_k_per_h: float = _threshold(
        1.0, "K/h", "rise of the surface that drives air out of a porous substrate", _OWN
    )
    mix_deviation: float = _threshold(
        0.05, "", "deviation of quantities from the mix ratio that counts", _OWN
    )
    consumption_low: float = _threshold(0.9, "", "share of theory that is short", _OWN)
    consumption_high: float = _threshold(1.6, "", "share of theory that is heavy", _OWN)
    sunlit_wait_d: float = _threshold(
        14.0, "d", "days in sunlight before overcoating that count for a light-sensitive coat", _OWN
    )
    young_cement_d: float = _threshold(
        28.0, "d", "age of concrete, render or plaster when coated", _PRACTICE
    )
    wood_bare_d: float = _threshold(
        14.0, "d", "days of bare wood in weather before priming",
        "USDA FPL-GTR-190 chapter 16 (READ in extracts)",
    )  # fmt: skip
    alkaline_cleaner_ph: float = _threshold(12.0, "pH", "strong alkali in use solution", _OWN)
    gradient_k: float = _threshold(
        10.0, "K", "difference of temperature through an uninsulated wall", _OWN
    )
    overprotection_v: float = _threshold(
        -1.2, "V", "instant-off potential against copper sulphate", "common limit, from memory"
    )
    agcl_to_cse_v: float = _threshold(
        -0.05, "V", "added to a potential against silver chloride in seawater", "from memory"
    )
    follows_ratio: float = _threshold(
        3.0, "", "how many times more often a group fails than the rest", _OWN
    )
    follows_p: float = _threshold(0.05, "", "chance of the split, by Fisher's exact test", _OWN)
    fewest_areas: float = _threshold(6, "", "areas below which no chance is calculated", _OWN)
    uniform_share: float = _threshold(
        0.8, "", "share of the areas of a system that fail alike", _OWN
    )
    uneven_extent: float = _threshold(
        2.0, "", "ratio of extents above which failing is not even", _OWN
    )
    concentrated: float = _threshold(0.6, "", "share of failing at one kind of place", _OWN)
    sunnier: float = _threshold(
        1.5, "", "ratio of failing in sun to shade that counts as worse", _OWN
    )
    mix_patch_low: float = _threshold(
        0.5, "", "smallest share of one mix that a patch covers", _OWN
    )
    mix_patch_high: float = _threshold(1.5, "", "largest share of one mix", _OWN)
    hollow_ratio: float = _threshold(
        1.5, "", "ratio of hollow to visible extent that shows hidden loss", _OWN
    )
    dominant: float = _threshold(0.6, "", "share of breaks that makes a plane dominant", _OWN)
    rival_plane: float = _threshold(
        0.2, "", "share of another plane that keeps a break from excluding", _OWN
    )
    glue_share: float = _threshold(
        50.0, "%", "glue break above which a test is only a lower bound",
        "common practice; sources differ between 25 and 50 %",
    )  # fmt: skip
    glue_tests: float = _threshold(1 / 3, "", "share of tests broken in the glue below need", _OWN)
    low_against_sound: float = _threshold(
        0.5, "", "share of the strength of sound areas that is low, without a requirement", _OWN
    )
    knife_poor: float = _threshold(4.0, "", "knife rating that is poor (ASTM D6677)", _OWN)
    knife_sound: float = _threshold(8.0, "", "knife rating that is sound (ASTM D6677)", _OWN)
    boiled_rating: float = _threshold(
        1.0, "", "worst cut rating after boiling water that passes (ISO 2409)",
        "coil and powder practice, from memory",
    )  # fmt: skip
    chloride_clean_ug_cm2: float = _threshold(
        2.0, "ug/cm2", "chloride below which steel is clean by every common limit",
        "offshore practice 20 mg/m2, from memory",
    )  # fmt: skip
    chloride_high_ug_cm2: float = _threshold(
        5.0, "ug/cm2", "chloride above which steel is refused", "UFGS 09971, archived (READ)"
    )
    dft_below_share: float = _threshold(
        0.2, "", "share of spots below the minimum", "ISO 19840 acceptance (from memory)"
    )
    dft_single: float = _threshold(
        0.8, "", "share of the minimum that a spot may not fall below",
        "SSPC-PA 2 level 3 (READ), ISO 19840 (from memory)",
    )  # fmt: skip
    dft_contrast: float = _threshold(
        0.2, "", "difference of thickness, as a share of nominal, that counts", _OWN
    )
    contrast_p: float = _threshold(
        0.1, "", "chance of a difference between sides, by rank test", _OWN
    )
    wet_face_ph: float = _threshold(11.0, "pH", "wetted interface that is strongly alkaline", _OWN)
    wood_moist: float = _threshold(18.0, "%", "moisture of exterior timber", _PRACTICE)
    concrete_pull_mpa: float = _threshold(
        1.5, "MPa", "tensile strength of prepared concrete", "trade pages (READ); for concrete only"
    )
    peak_share: float = _threshold(1 / 3, "", "blast profile as a share of the first coat", _OWN)
    tg_below_control_k: float = _threshold(8.0, "K", "glass transition below the control", _OWN)
    tg_rise_k: float = _threshold(5.0, "K", "rise of the glass transition on the second heat", _OWN)
    ratio_off: float = _threshold(0.10, "", "deviation of an analysed mix ratio", _OWN)
    solvent_times_control: float = _threshold(
        2.0, "", "retained solvent as a multiple of the control", _OWN
    )
    particles_percent: float = _threshold(5.0, "%", "face covered by particles", _OWN)
    voids_percent: float = _threshold(2.0, "%", "voids in a section", _OWN)
    ions_times_control: float = _threshold(
        2.0, "", "ions of a fluid as a multiple of the control water", _OWN
    )
    patch_gain: float = _threshold(
        2.0, "", "strength of a treated trial patch as a multiple of the untreated", _OWN
    )
    element_times_control: float = _threshold(
        2.0, "", "element on a face as a multiple of the control", _OWN
    )
    element_percent: float = _threshold(1.0, "%", "element on a face that counts, by weight", _OWN)
    beads_s: float = _threshold(
        60.0, "s", "time that a drop of water stands on a substrate that repels it", _PRACTICE
    )
    rubs_of_sound: float = _threshold(
        0.5, "", "double rubs as a share of those of sound areas, where no number is required", _OWN
    )
    hard_step: float = _threshold(
        2.0, "", "step of hardness as a multiple of the scatter of a spot", _OWN
    )
    temperature_step_k: float = _threshold(40.0, "K", "rapid step of surface temperature", _OWN)
    many_layers: float = _threshold(5.0, "", "number of aged layers that is many", _OWN)
    thick_old_um: float = _threshold(500.0, "um", "thickness of aged layers that is much", _OWN)
    few_seen: float = _threshold(
        0.2, "", "share of the places looked at below which a sign says nothing either way", _OWN
    )
    small_spot_mm: float = _threshold(10.0, "mm", "size of a small spot", _OWN)
    fewest_for_exclusion: float = _threshold(
        3, "", "readings on site or faces below which nothing is excluded", _PRACTICE
    )
    fewest_lab_for_exclusion: float = _threshold(
        2, "", "laboratory results below which nothing is excluded", _OWN
    )
    paper_share: float = _threshold(
        0.33, "", "how much a paper settles beside a test of the same question", _OWN
    )
    common_share: float = _threshold(
        0.1, "", "share of all causes that a reading may agree with and still be particular", _OWN
    )
    tie: float = _threshold(2.0, "points", "lead below which two candidates are not parted", _OWN)
    serious: float = _threshold(
        4.0,
        "points",
        "lead beyond which no candidate but a look-alike is serious",
        _OWN,
    )
    possible: float = _threshold(
        2.0, "points", "support below which a cause is not called possible", _OWN
    )
    probable: float = _threshold(
        4.0, "points", "support below which a cause is not called probable", _OWN
    )

    @classmethod
    def of(cls, dossier: Dossier) -> "Settings":
        """Return the thresholds of a case: those it shares with the field tests, and its own.

        A case keeps its own choice as a case entry, `threshold NAME`.
        """
        shared = settings_of(dossier)
        chosen = {
            "dew_margin_k": shared.dew_margin_k,
            "glue_share": shared.glue_limit_percent,
            "mix_deviation": shared.mix_tolerance_percent / 100,
        }
        known = {one.name for one in fields(cls)}
        for entry in dossier.all(CaseEntry):
            prefix, _, name = entry.key.partition(" ")
            if prefix == _KEY and name in known:
                chosen[name] = _number(entry.value, chosen.get(name, getattr(cls(), name)))
        return cls(**chosen)

    def said(self, *names: str) -> tuple[tuple[str, str], ...]:
        """Return thresholds by name with their values, as findings show them."""
        return tuple((name, f"{getattr(self, name):g}") for name in names)


@dataclass(frozen=True, slots=True)
class Threshold:
    """One threshold before a person."""

    name: str
    value: float
    unit: str
    words: str
    source: str


def thresholds(settings: Settings) -> tuple[Threshold, ...]:
    """Return all thresholds with their units, words and sources, for a page that shows them."""
    return tuple(
        Threshold(
            one.name,
            getattr(settings, one.name),
            one.metadata["unit"],
            one.metadata["words"],
            one.metadata["source"],
        )
        for one in fields(settings)
    )
