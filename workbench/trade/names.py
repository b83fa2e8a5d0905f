"""Codes of the field book as a person says them: materials, signs, quantities."""

from workbench.records.speech import spoken

__all__ = ["form_name", "quantity_name", "spoken"]


def form_name(form: str) -> str:
    """Return a form of failure or sign in words: `back_face=none` is said of the film's back."""
    name, _, found = form.partition("=")
    about = {"back_face": "back of the film", "blister_contents": "contents of blisters"}
    if not found:
        return spoken(name)
    said = "nothing on it" if (name, found) == ("back_face", "none") else spoken(found)
    return f"{about.get(name, spoken(name))}: {said}"


_QUANTITIES = {
    "ph_fluid": "pH of the fluid", "ph_face": "pH of the face", "ph_cleaner": "pH of the cleaner",
    "rh_in_slab": "humidity in the slab", "emission": "moisture emission",
    "profile_rz": "surface profile Rz", "profile_csp": "concrete surface profile (CSP)",
    "gloss_retention": "gloss retention", "colour_de": "colour difference ΔE",
    "cp_off_agcl": "off potential (Ag/AgCl)", "cp_off_cse": "off potential (Cu/CuSO4)",
    "temp_surface": "surface temperature", "temp_difference": "temperature difference",
    "temp_step": "temperature step", "dft_total": "thickness of the whole film",
    "cure_to_service": "cure before service", "thinner_percent": "thinner",
    "pull_off": "pull-off strength", "tg_first": "Tg, first heat", "tg_second": "Tg, second heat",
    "exotherm": "residual exotherm", "mix_ratio_relative": "mix ratio against nominal",
    "ftir_match": "infrared match", "ftir_extra_bands": "extra infrared bands",
    "ftir_oxidation": "oxidation (infrared)", "ester_hydrolysis": "ester hydrolysis (infrared)",
    "foreign": "foreign matter", "eds": "element", "petro_gel": "gel (petrography)",
    "petro_frost_cracks": "frost cracks (petrography)",
    "petro_weak_skin": "weak skin (petrography)", "petro_fractures": "fractures (petrography)",
    "layer_thickness": "thickness of layer", "layer_count": "number of layers",
    "retained_qc": "retained sample: composition", "retained_cure": "retained sample: cure",
    "reproduction": "reproduced on panels", "xrd": "phase (X-ray diffraction)",
}  # fmt: skip


def quantity_name(code: str) -> str:
    """Return what a quantity of the field book is called: "pH of the face", "element Na"."""
    name, _, detail = code.partition(":")
    words = _QUANTITIES.get(name, spoken(name))
    return f"{words} {spoken(detail)}" if detail else words
