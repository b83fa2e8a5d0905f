"""Colour differences and gloss retention from instrument readings."""

import math
from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Lab:
    """A colour in CIELAB."""

    lightness: float
    a: float
    b: float


def delta_e_76(one: Lab, other: Lab) -> float:
    """Return the CIELAB difference dE*ab (ISO 11664-4, ASTM D2244)."""
    return math.dist((one.lightness, one.a, one.b), (other.lightness, other.a, other.b))


def delta_e_2000(one: Lab, other: Lab) -> float:
    """Return the CIEDE2000 difference dE00, all weighting factors 1.

    References:
        ISO/CIE 11664-6; G. Sharma, W. Wu and E. N. Dalal, Color Research and Application 30
        (2005) 21-30, whose 34 pairs it reproduces.
    """
    mean_chroma = (math.hypot(one.a, one.b) + math.hypot(other.a, other.b)) / 2
    stretch = 1.5 - 0.5 * math.sqrt(mean_chroma**7 / (mean_chroma**7 + 25.0**7))
    c1, c2 = (math.hypot(stretch * k.a, k.b) for k in (one, other))
    h1, h2 = (_hue(stretch * k.a, k.b) for k in (one, other))
    turn = 0.0 if c1 * c2 == 0 else (h2 - h1 + 180) % 360 - 180
    turn = 180.0 if turn == -180 and h2 > h1 else turn
    d_hue = 2 * math.sqrt(c1 * c2) * math.sin(math.radians(turn / 2))
    lightness, chroma = (one.lightness + other.lightness) / 2, (c1 + c2) / 2
    hue = h1 + h2 if c1 * c2 == 0 else _mean_hue(h1, h2)
    weight_l, weight_c, weight_h, rotation = _weights(lightness, chroma, hue)
    in_l = (other.lightness - one.lightness) / weight_l
    in_c, in_h = (c2 - c1) / weight_c, d_hue / weight_h
    return math.sqrt(in_l**2 + in_c**2 + in_h**2 + rotation * in_c * in_h)


def _hue(a: float, b: float) -> float:
    return 0.0 if a == b == 0 else math.degrees(math.atan2(b, a)) % 360


def _mean_hue(h1: float, h2: float) -> float:
    if abs(h1 - h2) <= 180:
        return (h1 + h2) / 2
    return (h1 + h2 + 360) / 2 if h1 + h2 < 360 else (h1 + h2 - 360) / 2


def _weights(lightness: float, chroma: float, hue: float) -> tuple[float, float, float, float]:
    def cosine(degrees: float) -> float:
        return math.cos(math.radians(degrees))

    t = (
        1
        - 0.17 * cosine(hue - 30)
        + 0.24 * cosine(2 * hue)
        + 0.32 * cosine(3 * hue + 6)
        - 0.20 * cosine(4 * hue - 63)
    )
    off = (lightness - 50) ** 2
    spread = 30 * math.exp(-(((hue - 275) / 25) ** 2))
    twist = 2 * math.sqrt(chroma**7 / (chroma**7 + 25.0**7))
    return (
        1 + 0.015 * off / math.sqrt(20 + off),
        1 + 0.045 * chroma,
        1 + 0.015 * chroma * t,
        -math.sin(math.radians(2 * spread)) * twist,
    )


def gloss_retention_percent(before: float, after: float) -> float:
    """Return gloss retention in percent, both read at the same angle (ASTM D523; from memory).

    Raises:
        ValueError: `before` is not above 0 or `after` below 0.
    """
    if before <= 0 or after < 0:
        raise ValueError("`before` lies above 0 and `after` is not below 0")
    return 100 * after / before
