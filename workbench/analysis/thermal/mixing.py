"""What a glass transition says of composition and cure: the rules of Fox and of DiBenedetto."""

ZERO_CELSIUS_K = 273.15


def fox(shares: tuple[float, ...], celsius: tuple[float, ...]) -> float:
    """Return the glass transition of a single-phase mixture in degC: 1/Tg = sum of w/Tg, in kelvin.

    It does not hold where the phases separate.

    Args:
        shares: Mass fractions, summing to 1.
        celsius: Glass transition of each part in degC.

    Raises:
        ValueError: The shares do not sum to 1, or a temperature is at or below absolute zero.

    References:
        T. G. Fox, Bulletin of the American Physical Society 1 (1956) 123.
    """
    if len(shares) != len(celsius) or abs(sum(shares) - 1) > 1e-6 or min(shares) < 0:
        raise ValueError("`shares` are fractions that sum to 1, one for each temperature")
    if min(celsius) <= -ZERO_CELSIUS_K:
        raise ValueError("a temperature lies above absolute zero")
    inverse = sum(w / (t + ZERO_CELSIUS_K) for w, t in zip(shares, celsius, strict=True))
    return 1 / inverse - ZERO_CELSIUS_K


def dibenedetto(
    conversion: float, *, uncured_c: float, cured_c: float, interaction: float
) -> float:
    """Return the glass transition in degC at a degree of cure.

    (Tg - Tg0) / (Tg1 - Tg0) = L a / (1 - (1 - L) a).

    Args:
        conversion: Degree of cure a, 0 to 1.
        uncured_c: Tg0 of the uncured mixture in degC.
        cured_c: Tg1 at full cure in degC.
        interaction: L, 0 to 1, fitted for the material.

    Raises:
        ValueError: An argument is out of its range.

    References:
        A. T. DiBenedetto, Journal of Polymer Science B 25 (1987) 1949-1969.
    """
    _check(uncured_c, cured_c, interaction)
    if not 0 <= conversion <= 1:
        raise ValueError("`conversion` lies between 0 and 1")
    part = interaction * conversion / (1 - (1 - interaction) * conversion)
    return uncured_c + (cured_c - uncured_c) * part


def conversion_from_tg(
    celsius: float, *, uncured_c: float, cured_c: float, interaction: float
) -> float:
    """Return the degree of cure at which the glass transition is `celsius`; see `dibenedetto`.

    Raises:
        ValueError: The temperature lies outside `uncured_c` to `cured_c`.
    """
    _check(uncured_c, cured_c, interaction)
    if not uncured_c <= celsius <= cured_c:
        raise ValueError("`celsius` lies between the uncured and the cured value")
    rise = celsius - uncured_c
    return rise / (interaction * (cured_c - uncured_c) + (1 - interaction) * rise)


def _check(uncured_c: float, cured_c: float, interaction: float) -> None:
    if not (0 < interaction <= 1 and uncured_c < cured_c):
        raise ValueError("`interaction` lies above 0 up to 1, and `cured_c` above `uncured_c`")
