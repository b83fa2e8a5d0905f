"""What a scanner reads: the payload, and the modules of its symbols.

A payload holds 0-9 and A-Z only, since scanners and keyboards of different languages change other
signs. QR symbols are of error correction level Q with a quiet zone of 4 modules; Code 128 keeps
10 modules (ISO/IEC 18004 and 15417, from memory).
"""

from collections.abc import Iterable

import barcode
import segno

QR_QUIET = 4
CODE_128_QUIET = 10
_LETTERS = frozenset("0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZ")


def payload_of(ref: str) -> str:
    """Return what the symbols of `ref` hold: its letters and digits, in capitals.

    Raises:
        ValueError: The ref has none.
    """
    payload = "".join(letter for letter in ref.upper() if letter in _LETTERS)
    if not payload:
        raise ValueError(f"“{ref}” has no letter or digit that a scanner reads")
    return payload


def find_payload(scanned: str, refs: Iterable[str]) -> tuple[str, ...]:
    """Return the refs whose payload was scanned: one, none, or several that look alike."""
    wanted = "".join(letter for letter in scanned.upper() if letter in _LETTERS)
    exact = tuple(ref for ref in refs if ref == scanned.strip())
    return exact or tuple(ref for ref in refs if wanted and payload_of(ref) == wanted)


def qr_modules(payload: str) -> list[list[bool]]:
    """Return the QR symbol of `payload`, dark modules true, shape (n, n), without quiet zone."""
    symbol = segno.make(payload, error="q", boost_error=False, micro=False)
    return [[bool(module) for module in row] for row in symbol.matrix]


def code_128_modules(payload: str) -> list[bool]:
    """Return the Code 128 symbol of `payload`, dark modules true, without quiet zone."""
    symbol = barcode.get_barcode_class("code128")(payload)
    return [module == "1" for module in symbol.build()[0]]


def snapped_module_mm(wanted_mm: float, dots_per_inch: int) -> float:
    """Return the module width nearest to `wanted_mm` that is a whole number of printer dots."""
    dot = 25.4 / dots_per_inch
    return max(1, round(wanted_mm / dot)) * dot
