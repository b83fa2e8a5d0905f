"""The thresholds of the reasoning, each with its unit and where it comes from.

A requirement of the case (its `limits`, `coats` and `recoat` sheets) goes before any of these.
"""

from dataclasses import dataclass, field, fields
from typing import Any

from workbench.records import CaseEntry, Dossier, Problem
from workbench.trade.basis import PRACTICE, Basis, Status
from workbench.trade.settings import Choice, settings_of
from workbench.trade.showing import unit_sign

_KEY = "threshold "
_OWN = Basis("", Status.OWN)


def _threshold(default: float, unit: str, asks: str, basis: Basis = _OWN) -> float:
    return field(default=default, metadata={"unit": unit, "asks": asks, "basis": basis})


SHARED = {
    "dew_margin_k": ("dew_margin_k", 1),
    "poor_date_d": ("poor_date_d", 1),
    "glue_share": ("glue_limit_percent", 1),
    "mix_deviation": ("mix_tolerance_percent", 100),
}
"""Thresholds that are settings of the field tests too: which, and how many of it make one."""
GRADING = frozenset((
    "fewest_for_exclusion", "fewest_lab_for_exclusion", "paper_share", "common_share", "tie",
    "serious", "possible", "probable",
))  # fmt: skip
"""Thresholds that decide the grades of candidates, whatever the findings."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Settings:
    """Thresholds that decide findings and grades where the case has no requirement."""

    dew_margin_k: float = _threshold(
        3.0, "K", "smallest margin of the surface above the dew point", PRACTICE
    )
    poor_date_d: float = _threshold(
        2.0, "d", "days by which a date of a reconstructed log may be off"
    )
    washed_face_d: float = _threshold(
        7.0, "d", "days in the weather after which a soluble deposit may be gone"
    )
    early_cure_h: float = _threshold(
        12.0, "h", "hours after a coat in which dew and humidity count"
    )
    cure_watch_h: float = _threshold(
        168.0, "h", "hours after a coat in which cold counts, where no cure time is given"
    )
    humid_share: float = _threshold(
        0.10, "", "share of readings above the humidity limit that counts"
    )
    wet_film_h: float = _threshold(4.0, "h", "hours after a coat in which the film is wet")
    even_patches: float = _threshold(
        1.5, "", "ratio of the largest to the smallest of patches of one size"
    )
    warming_k_per_h: float = _threshold(
        1.0, "K/h", "rise of the surface that drives air out of a porous substrate"
    )
    mix_deviation: float = _threshold(
        0.05, "", "deviation of quantities from the mix ratio that counts"
    )
    consumption_low: float = _threshold(0.9, "", "share of theory that is short")
    consumption_high: float = _threshold(1.6, "", "share of theory that is heavy")
    sunlit_wait_d: float = _threshold(
        14.0, "d", "days in sunlight before overcoating that count for a light-sensitive coat"
    )
    young_cement_d: float = _threshold(
        28.0, "d", "age of concrete, render or plaster when coated", PRACTICE
    )
    wood_bare_d: float = _threshold(
        14.0, "d", "days of bare wood in weather before priming",
        Basis("USDA FPL-GTR-190 chapter 16, in extracts", Status.READ),
    )  # fmt: skip
    alkaline_cleaner_ph: float = _threshold(12.0, "pH", "strong alkali in use solution")
    gradient_k: float = _threshold(
        10.0, "K", "difference of temperature through an uninsulated wall"
    )
    overprotection_v: float = _threshold(
        -1.2, "V", "instant-off potential against copper sulphate",
        Basis("common limit", Status.MEMORY),
    )  # fmt: skip
    agcl_to_cse_v: float = _threshold(
        -0.05, "V", "added to a potential against silver chloride in seawater",
        Basis("", Status.MEMORY),
    )  # fmt: skip
    follows_ratio: float = _threshold(
        3.0, "", "how many times more often a group fails than the rest"
    )
    follows_p: float = _threshold(0.05, "", "chance of the split, by Fisher's exact test")
    fewest_areas: float = _threshold(6, "", "areas below which no chance is calculated")
    uniform_share: float = _threshold(0.8, "", "share of the areas of a system that fail alike")
    uneven_extent: float = _threshold(2.0, "", "ratio of extents above which failing is not even")
    concentrated: float = _threshold(0.6, "", "share of failing at one kind of place")
    sunnier: float = _threshold(1.5, "", "ratio of failing in sun to shade that counts as worse")
    hollow_ratio: float = _threshold(
        1.5, "", "ratio of hollow to visible extent that shows hidden loss"
    )
    dominant: float = _threshold(0.6, "", "share of breaks that makes a plane dominant")
    rival_plane: float = _threshold(
        0.2, "", "share of another plane that keeps a break from excluding"
    )
    glue_share: float = _threshold(
        50.0, "%", "glue break above which a test is only a lower bound",
        PRACTICE,
    )  # fmt: skip
    glue_tests: float = _threshold(1 / 3, "", "share of tests broken in the glue below need")
    low_against_sound: float = _threshold(
        0.5, "", "share of the strength of sound areas that is low, without a requirement"
    )
    knife_poor: float = _threshold(4.0, "", "knife rating that is poor (ASTM D6677)")
    knife_sound: float = _threshold(8.0, "", "knife rating that is sound (ASTM D6677)")
    boiled_rating: float = _threshold(
        1.0, "", "worst cut rating after boiling water that passes (ISO 2409)",
        Basis("coil and powder practice", Status.MEMORY),
    )  # fmt: skip
    chloride_clean_ug_cm2: float = _threshold(
        2.0, "ug/cm2", "chloride below which steel is clean by every common limit",
        Basis("offshore practice, 20 mg/m2", Status.MEMORY),
    )  # fmt: skip
    chloride_high_ug_cm2: float = _threshold(
        5.0, "ug/cm2", "chloride above which steel is refused",
        Basis("UFGS 09971, archived", Status.READ),
    )  # fmt: skip
    dft_below_share: float = _threshold(
        0.2, "", "share of spots below the minimum", Basis("ISO 19840, acceptance", Status.MEMORY)
    )
    dft_single: float = _threshold(
        0.8, "", "share of the minimum that a spot may not fall below",
        Basis("SSPC-PA 2, level 3", Status.READ),
    )  # fmt: skip
    dft_contrast: float = _threshold(
        0.2, "", "difference of thickness, as a share of nominal, that counts"
    )
    contrast_p: float = _threshold(0.1, "", "chance of a difference between sides, by rank test")
    wet_face_ph: float = _threshold(11.0, "pH", "wetted interface that is strongly alkaline")
    wood_moist: float = _threshold(18.0, "%", "moisture of exterior timber", PRACTICE)
    concrete_pull_mpa: float = _threshold(
        1.5, "MPa", "tensile strength of prepared concrete",
        Basis("trade pages, for concrete only", Status.READ),
    )  # fmt: skip
    peak_share: float = _threshold(1 / 3, "", "blast profile as a share of the first coat")
    tg_below_control_k: float = _threshold(8.0, "K", "glass transition below the control")
    tg_rise_k: float = _threshold(5.0, "K", "rise of the glass transition on the second heat")
    ratio_off: float = _threshold(0.10, "", "deviation of an analysed mix ratio")
    solvent_times_control: float = _threshold(
        2.0, "", "retained solvent as a multiple of the control"
    )
    particles_percent: float = _threshold(5.0, "%", "face covered by particles")
    voids_percent: float = _threshold(2.0, "%", "voids in a section")
    ions_times_control: float = _threshold(
        2.0, "", "ions of a fluid as a multiple of the control water"
    )
    patch_gain: float = _threshold(
        2.0, "", "strength of a treated trial patch as a multiple of the untreated"
    )
    element_times_control: float = _threshold(
        2.0, "", "element on a face as a multiple of the control"
    )
    element_percent: float = _threshold(1.0, "%", "element on a face that counts, by weight")
    beads_s: float = _threshold(
        60.0, "s", "time that a drop of water stands on a substrate that repels it", PRACTICE
    )
    rubs_of_sound: float = _threshold(
        0.5, "", "double rubs as a share of those of sound areas, where no number is required"
    )
    hard_step: float = _threshold(
        2.0, "", "step of hardness as a multiple of the scatter of a spot"
    )
    temperature_step_k: float = _threshold(40.0, "K", "rapid step of surface temperature")
    many_layers: float = _threshold(5.0, "", "number of aged layers that is many")
    thick_old_um: float = _threshold(500.0, "um", "thickness of aged layers that is much")
    few_seen: float = _threshold(
        0.2, "", "share of the places looked at below which a sign says nothing either way"
    )
    small_spot_mm: float = _threshold(10.0, "mm", "size of a small spot")
    fewest_for_exclusion: float = _threshold(
        3, "", "readings on site or faces below which nothing is excluded", PRACTICE
    )
    fewest_lab_for_exclusion: float = _threshold(
        2, "", "laboratory results below which nothing is excluded"
    )
    paper_share: float = _threshold(
        0.33, "", "how much a paper settles beside a test of the same question"
    )
    common_share: float = _threshold(
        0.1, "", "share of all causes that a reading may agree with and still be particular"
    )
    tie: float = _threshold(2.0, "points", "lead below which two candidates are not parted")
    serious: float = _threshold(
        4.0,
        "points",
        "lead beyond which no candidate but a look-alike is serious",
    )
    possible: float = _threshold(
        2.0, "points", "support below which a cause is not called possible"
    )
    probable: float = _threshold(
        4.0, "points", "support below which a cause is not called probable"
    )

    @classmethod
    def of(cls, dossier: Dossier) -> "Settings":
        """Return the thresholds of a case: those it shares with the field tests, and its own.

        A case keeps its own choice as a case entry, `threshold NAME`.
        """
        return _read(dossier)[0]

    def said(self, *names: str) -> tuple[tuple[str, str], ...]:
        """Return thresholds by name with their values, as findings show them."""
        return tuple((name, f"{getattr(self, name):g}") for name in names)


def thresholds(settings: Settings) -> tuple[Choice, ...]:
    """Return the thresholds with their units, words and sources.

    Those shared with the field tests are not among them: they are settings of the case.
    """
    return tuple(
        Choice(
            key=_KEY + one.name,
            name=one.name,
            value=getattr(settings, one.name),
            default=getattr(_DEFAULT, one.name),
            signed=getattr(_DEFAULT, one.name) < 0,
            **one.metadata,
        )
        for one in fields(settings)
        if one.name not in SHARED
    )


def asked(name: str) -> str:
    """Return what a threshold is, in words with its unit: "… above the dew point, K"."""
    told = next(one.metadata for one in fields(Settings) if one.name == name)
    unit = f", {unit_sign(told['unit'])}" if told["unit"] else ""
    return f"{told['asks']}{unit}"


def threshold_problems(dossier: Dossier) -> tuple[Problem, ...]:
    """Return the entries that name no threshold or give no number; the default holds."""
    return _read(dossier)[1]


def _read(dossier: Dossier) -> tuple[Settings, tuple[Problem, ...]]:
    shared = settings_of(dossier)
    chosen: dict[str, Any] = {
        own: getattr(shared, name) / per for own, (name, per) in SHARED.items()
    }
    known = {one.key: one for one in thresholds(Settings())}
    problems = []
    for entry in dossier.all(CaseEntry):
        if not entry.key.startswith(_KEY):
            continue
        choice = known.get(entry.key)
        if choice is None:
            right = ", ".join(one.name for one in known.values())
            problems.append(Problem("case", entry.key, "no such threshold", f"one of {right}"))
            continue
        try:
            chosen[choice.name] = choice.read(entry.value)
        except ValueError:
            wrong = f"“{entry.value}” cannot be chosen"
            problems.append(Problem("case", entry.key, wrong, choice.right))
    return Settings(**chosen), tuple(problems)


_DEFAULT = Settings()
