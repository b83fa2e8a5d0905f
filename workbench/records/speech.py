"""Codes of the field book as a person says them."""

_SPOKEN = {
    "acrylic_waterborne": "waterborne acrylic", "epoxy_solventfree": "solvent-free epoxy",
    "epoxy_waterborne": "waterborne epoxy", "moisture_cure_pu": "moisture-curing polyurethane",
    "polyurethane_aliphatic": "aliphatic polyurethane",
    "polyurethane_aromatic": "aromatic polyurethane", "powder": "powder coating",
    "pu_cement": "polyurethane cement", "hollow": "hollow areas", "damp": "damp places",
    "tacky": "tacky film", "growth": "biological growth", "decay": "decay of the wood",
    "rust_undercutting": "rust creep under the film", "pinholes_craters": "pinholes or craters",
    "first_seen": "failure first seen", "not_stated": "not stated", "none_dry": "none, dry",
}  # fmt: skip


def spoken(code: str) -> str:
    """Return a code of the field book as a person says it: `peeling_sheets` loses its line."""
    return _SPOKEN.get(code, code.replace("_", " "))
