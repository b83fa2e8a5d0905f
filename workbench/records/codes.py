"""The vocabularies of the field book, each in one place.

A closed list is an enum: anything else in its column is a problem. An open list (quantities,
forms, features) names the words that have a meaning; `OPEN_PREFIXES` and the knowledge in
`resources/` say how it may be extended.
"""

from enum import StrEnum


class Chapter(StrEnum):
    """A part of the case, and of the window and report that show it."""

    BACKGROUND = "Background"
    SURVEY = "Survey"
    FIELD_TESTS = "Field tests"
    SAMPLES = "Samples"
    LABORATORY = "Laboratory"
    CAUSES = "Causes"
    REPORT = "Report"


class YesNo(StrEnum):
    """Yes or no; a blank is unknown and is not "no"."""

    YES = "yes"
    NO = "no"


class Condition(StrEnum):
    """How an area stands."""

    FAILING = "failing"
    NON_FAILING = "non-failing"
    CONTROL = "control"
    REPAIRED = "repaired"
    UNKNOWN = "unknown"


class Role(StrEnum):
    """What a party does in the matter."""

    OWNER = "owner"
    SPECIFIER = "specifier"
    CONTRACTOR = "contractor"
    APPLICATOR = "applicator"
    SUPPLIER = "supplier"
    FABRICATOR = "fabricator"
    INSPECTOR = "inspector"
    INVESTIGATOR = "investigator"
    LABORATORY = "laboratory"
    CARRIER = "carrier"
    OTHER = "other"


class DocumentKind(StrEnum):
    """What kind of paper or file a document is."""

    SPECIFICATION = "specification"
    DATA_SHEET = "data_sheet"
    METHOD_STATEMENT = "method_statement"
    DAILY_LOG = "daily_log"
    MIX_RECORD = "mix_record"
    DELIVERY_RECORD = "delivery_record"
    WEATHER_RECORD = "weather_record"
    INSPECTION_REPORT = "inspection_report"
    SUBSTRATE_RECORD = "substrate_record"
    MOISTURE_RECORD = "moisture_record"
    SALT_RECORD = "salt_record"
    SERVICE_RECORD = "service_record"
    CLEANING_RECORD = "cleaning_record"
    FIRST_REPORT = "first_report"
    PHOTOGRAPH = "photograph"
    DRAWING = "drawing"
    LAB_REPORT = "lab_report"
    RETAINED_SAMPLE = "retained_sample"
    CORRESPONDENCE = "correspondence"
    OTHER = "other"


class DocumentStatus(StrEnum):
    """What came of asking for a document; "never existed" is a fact, a blank is unknown."""

    RECEIVED = "received"
    REQUESTED = "requested"
    REFUSED = "refused"
    NEVER_EXISTED = "never_existed"
    LOST = "lost"


class Substrate(StrEnum):
    """What carries the coating (order 0 in a system)."""

    ALUMINIUM = "aluminium"
    BITUMINOUS = "bituminous"
    CARBON_STEEL = "carbon_steel"
    CONCRETE = "concrete"
    EXISTING_COATING = "existing_coating"
    GALVANISED_STEEL = "galvanised_steel"
    MASONRY_RENDER = "masonry_render"
    METAL_CLADDING = "metal_cladding"
    PLASTER_GYPSUM = "plaster_gypsum"
    PLASTIC_COMPOSITE = "plastic_composite"
    STAINLESS_STEEL = "stainless_steel"
    WOOD = "wood"
    ZINC_METAL_SPRAY = "zinc_metal_spray"


class Chemistry(StrEnum):
    """What a coat is made of."""

    ACRYLIC_WATERBORNE = "acrylic_waterborne"
    ALKYD = "alkyd"
    BITUMINOUS = "bituminous"
    CEMENTITIOUS_POLYMER = "cementitious_polymer"
    CHLORINATED_RUBBER_VINYL = "chlorinated_rubber_vinyl"
    COAL_TAR_EPOXY = "coal_tar_epoxy"
    ELASTOMERIC_ACRYLIC = "elastomeric_acrylic"
    EPOXY = "epoxy"
    EPOXY_NOVOLAC = "epoxy_novolac"
    EPOXY_SOLVENTFREE = "epoxy_solventfree"
    EPOXY_WATERBORNE = "epoxy_waterborne"
    METHACRYLATE = "methacrylate"
    MINERAL_SILICATE = "mineral_silicate"
    MOISTURE_CURE_PU = "moisture_cure_pu"
    POLYASPARTIC_POLYUREA = "polyaspartic_polyurea"
    POLYESTER = "polyester"
    POLYURETHANE_ALIPHATIC = "polyurethane_aliphatic"
    POLYURETHANE_AROMATIC = "polyurethane_aromatic"
    POWDER = "powder"
    PU_CEMENT = "pu_cement"
    SILICONE_ALKYD = "silicone_alkyd"
    VINYL_COPOLYMER = "vinyl_copolymer"
    VINYL_ESTER = "vinyl_ester"
    ZINC_RICH_EPOXY = "zinc_rich_epoxy"
    ZINC_SILICATE = "zinc_silicate"


MATERIALS: frozenset[str] = frozenset({*Substrate, *Chemistry})
"""Words that the `material` column of `coats` takes: substrates at order 0, chemistries above."""


class MixBasis(StrEnum):
    """Whether a mix ratio is by weight or by volume."""

    WEIGHT = "weight"
    VOLUME = "volume"


class Event(StrEnum):
    """What happened to an area other than a coat."""

    CAST = "cast"
    EXPOSED = "exposed"
    PREPARED = "prepared"
    STORED = "stored"
    HEATED = "heated"
    VENTILATED = "ventilated"
    WETTED = "wetted"
    WASHED = "washed"
    OPENED_TO_OTHERS = "opened_to_others"
    IN_SERVICE = "in_service"
    IMMERSED = "immersed"
    CURRENT_ON = "current_on"
    CLEANED = "cleaned"
    CHEMICAL = "chemical"
    TEMPERATURE = "temperature"
    LEAK = "leak"
    IMPACT = "impact"
    REPAIRED = "repaired"
    FIRST_SEEN = "first_seen"


class Quality(StrEnum):
    """How far a record can be trusted; "poor" turns an exclusion into evidence against."""

    GOOD = "good"
    FAIR = "fair"
    POOR = "poor"


FAILURE_FORMS: tuple[str, ...] = (
    "delamination", "peeling_sheets", "flaking", "blistering", "cracking", "mudcracking",
    "wrinkling", "softening", "chalking", "rust_spots", "rust_undercutting", "discolouration",
    "pinholes_craters", "fisheyes", "wear", "spalling",
)  # fmt: skip
SIGNS: tuple[str, ...] = (
    "blister_opened", "blister_spurts", "solvent_smell", "efflorescence", "map_cracking",
    "crack_over_crack", "tacky", "greasy_face", "glossy_face", "abrasion_marks", "dust_on_face",
    "footprints", "rust_on_steel", "bright_steel", "mill_scale", "water_entry", "brown_stain",
    "chalk_on_face", "runs", "dry_spray", "hollow", "tyre_marks", "gouges", "curling",
    "white_deposit", "growth", "decay", "bar_rust", "damp",
)  # fmt: skip
FORM_CLASSES: dict[str, tuple[str, ...]] = {
    "blister_contents": (
        "none_dry", "clear_water", "sticky_or_coloured_fluid", "solvent_odour_fluid", "gas_only",
        "rust_water",
    ),
    "back_face": (
        "none", "thin_paste_film", "aggregate_bearing_concrete", "wood_fibres", "plaster_dust",
        "zinc_corrosion_product", "rust_scale", "old_coating",
    ),
}  # fmt: skip


FEATURE_NAMES: tuple[str, ...] = (
    "outdoor", "indoor", "sunlit", "immersed", "splash", "condensing", "buried", "marine",
    "deiced", "freeze_thaw", "confined", "insulated", "heated_inside", "below_grade",
    "water_behind", "cathodic_protection", "traffic", "hot_tyres", "impact", "edge", "weld",
    "fastener", "joint", "crack", "drain", "low", "film_break", "stored", "curing",
)  # fmt: skip
"""Features that have a meaning: exposures, positions, and what was stored or cured how."""


class PullOffMethod(StrEnum):
    """The standard a pull-off follows."""

    ISO_4624 = "ISO 4624"
    ASTM_D4541 = "ASTM D4541"
    ASTM_D7234 = "ASTM D7234"
    ASTM_C1583 = "ASTM C1583"
    EN_1542 = "EN 1542"


class Treatment(StrEnum):
    """What was done to the surface before a test on it."""

    AS_FOUND = "as_found"
    WASHED = "washed"
    ABRADED = "abraded"


class FixtureShape(StrEnum):
    """The face of a pull-off fixture."""

    ROUND = "round"
    SQUARE = "square"


class RatingMethod(StrEnum):
    """The standard of a rating; it fixes the scale and its direction."""

    ASTM_D6677 = "ASTM D6677"
    ASTM_D3359_A = "ASTM D3359 A"
    ASTM_D3359_B = "ASTM D3359 B"
    ISO_2409 = "ISO 2409"
    ISO_2409_BOILED = "ISO 2409 boiled"
    ISO_16276_2 = "ISO 16276-2"
    ASTM_D4214 = "ASTM D4214"
    ISO_4628_6 = "ISO 4628-6"
    ASTM_D610 = "ASTM D610"
    ISO_4628_3 = "ISO 4628-3"
    ASTM_D4752 = "ASTM D4752"
    ISO_8502_3 = "ISO 8502-3"


class ThicknessMethod(StrEnum):
    """How a thickness was read."""

    MAGNETIC = "magnetic"
    EDDY_CURRENT = "eddy_current"
    ULTRASONIC = "ultrasonic"
    WEDGE_CUT = "wedge_cut"
    SECTION = "section"
    NOT_STATED = "not_stated"


MEASUREMENT_QUANTITIES: tuple[str, ...] = (
    "ph_fluid", "ph_face", "ph_cleaner", "moisture", "rh_in_slab", "emission", "chloride", "salts",
    "profile_rz", "profile_csp", "hardness", "gloss", "gloss_retention", "colour_de",
    "cp_off_agcl", "cp_off_cse", "holidays", "water_drop", "amine_swab", "solvent_rub",
    "air_changes", "etch_removal", "temp_surface", "temp_difference", "temp_step",
    "crack_movement", "steel_loss", "water_level",
)  # fmt: skip
LAB_QUANTITIES: tuple[str, ...] = (
    "tg_first", "tg_second", "exotherm", "mix_ratio", "mix_ratio_relative", "ftir_match",
    "ftir_extra_bands", "ftir_oxidation", "ester_hydrolysis", "foreign", "plasticiser", "fluid_ph",
    "fluid_conductivity", "zinc_salts", "chloride_depth", "petro_gel", "petro_frost_cracks",
    "petro_weak_skin", "petro_fractures", "layer_count", "voids", "microcracks",
    "interface_particles", "interface_smooth", "abrasion_marks", "conversion_layer",
    "disbond_radius", "sd_value", "moisture_accumulation", "retained_qc", "retained_cure",
    "reproduction", "ash", "density",
)  # fmt: skip
OPEN_PREFIXES: tuple[str, ...] = (
    "reproduction:",
    "foreign:", "residue:", "solvent:", "solvent_share:", "eds:", "alloy:", "fluid_ion:",
    "fluid_organic:", "salt:", "xrd:", "layer_thickness:",
)  # fmt: skip
LIMIT_ONLY_QUANTITIES: tuple[str, ...] = (
    "dft_total", "cure_to_service", "thinner_percent", "pull_off", "expected_life",
)  # fmt: skip
OUTCOME_WORDS: tuple[str, ...] = (
    "present", "none", "few", "undetermined", "yes", "no", "pass", "fail", "positive", "negative",
    "dulled", "softened", "dissolved", "patchy", "continuous",
)  # fmt: skip
UNITS: tuple[str, ...] = (
    "MPa", "psi", "N/mm2", "um", "mil", "mm", "m", "in", "m2", "ft2", "pieces", "%", "wt%", "pH",
    "degC", "V", "s", "h", "d", "1/h", "ug/cm2", "mg/m2", "g/m2", "kg/m2", "mg/g", "mg/L", "uS/cm",
    "N", "kN", "lbf", "degF", "min", "kg", "g", "L", "ft", "K", "g/mL", "bar", "gal", "lb",
    "lb/1000ft2/24h", "g/m2/24h", "J/g", "GU",
)  # fmt: skip


class Qualifier(StrEnum):
    """How a value is to be read: below, above, about."""

    BELOW = "<"
    ABOVE = ">"
    ABOUT = "~"


class SpecimenCondition(StrEnum):
    """The state of a specimen when it was tested; blank is not stated."""

    AS_RECEIVED = "as_received"
    DRIED = "dried"
    WET = "wet"


class SampleKind(StrEnum):
    """What a sample is."""

    FILM = "film"
    FLUID = "fluid"
    CORE = "core"
    POWDER = "powder"
    SWAB = "swab"
    TAPE_LIFT = "tape_lift"
    DEPOSIT = "deposit"
    PANEL = "panel"
    OFFCUT = "offcut"
    SECTION = "section"
    LIQUID_COATING = "liquid_coating"
    SUBSTRATE = "substrate"
    WATER = "water"
    REFERENCE = "reference"
    BLANK = "blank"
    OTHER = "other"


class Purpose(StrEnum):
    """What a sample stands for."""

    FAILING = "failing"
    NON_FAILING = "non-failing"
    CONTROL = "control"
    REFERENCE = "reference"
    BLANK = "blank"
    DUPLICATE = "duplicate"
    TEST_PANEL = "test_panel"


class CustodyEvent(StrEnum):
    """What happened to a sample."""

    COLLECTED = "collected"
    SEALED = "sealed"
    HANDED_OVER = "handed_over"
    DISPATCHED = "dispatched"
    RECEIVED = "received"
    STORED = "stored"
    OPENED = "opened"
    SPLIT = "split"
    TESTED = "tested"
    USED_UP = "used_up"
    RETURNED = "returned"
    DISPOSED = "disposed"
    DISCREPANCY = "discrepancy"


class SealCondition(StrEnum):
    """What was found at a seal."""

    INTACT = "intact"
    BROKEN = "broken"
    ABSENT = "absent"
    NUMBER_DIFFERS = "number_differs"


class CustodyState(StrEnum):
    """What custody of a sample is at a moment."""

    IN_POSSESSION = "in possession"
    IN_VIEW = "in view"
    LOCKED_UP = "locked up by the holder"
    SECURED = "in a secured place"
    SEALED = "sealed"
    IN_TRANSIT = "sealed in transit"


class DiscrepancyKind(StrEnum):
    """What did not agree when a sample came in or changed hands."""

    PAPERS_MISSING = "papers_missing"
    PAPERS_INCOMPLETE = "papers_incomplete"
    LABEL_DIFFERS = "label_differs"
    COUNT_DIFFERS = "count_differs"
    DAMAGED = "damaged"
    LEAKING = "leaking"
    SEAL_BROKEN = "seal_broken"
    SEAL_ABSENT = "seal_absent"
    SEAL_NUMBER_DIFFERS = "seal_number_differs"
    TEMPERATURE = "temperature"
    NOT_ANNOUNCED = "not_announced"
    OTHER = "other"


class ClientDecision(StrEnum):
    """What the client said about a discrepancy."""

    GO_ON = "go_on"
    HOLD = "hold"
    REPLACE = "replace"
    RETURN = "return"


class Direction(StrEnum):
    """Whether something left or came."""

    OUT = "out"
    IN = "in"
