"""Layer thickness on drawn sections whose thickness is known."""

import numpy as np
import pytest

from workbench.analysis.sections import Scale, Seam, find_seams, measure_layers, profile
from workbench.analysis.sections.profile import Floats, strongest

HALF_UM = Scale(0.5)


def a_section(
    *, um: float = 75.0, tilt: float = 0.0, blur: float = 1.5, noise: float = 6.0, wave: float = 0
) -> Floats:
    """A bright layer of `um` at 0.5 um/px on a dark substrate under a grey mount, 500 x 400 px."""
    rows, columns = np.mgrid[0:400, 0:500].astype(np.float64)
    slope = np.radians(tilt)
    across = (rows - 200) * np.cos(slope) - (columns - 250) * np.sin(slope)
    lower = wave / 0.5 * np.sin(columns / 23)
    thick = um / 0.5

    def step(at: Floats | float) -> Floats:
        smooth = (1 + np.tanh((across - at) / (1.2 * blur))) / 2
        return np.asarray(smooth, dtype=np.float64)

    grey = 60 + 120 * step(-thick / 2 + lower) - 80 * step(thick / 2)
    return grey + np.random.default_rng(3).normal(0, noise, grey.shape)


def thickness(grey: Floats) -> tuple[float, float]:
    seams = find_seams(grey, (250, 40), (250, 360), layers=1, profiles=9, apart_px=20)
    section = measure_layers(seams, HALF_UM, apart_px=20)
    return section.layers[0].mean_um, section.tilt_deg


@pytest.mark.parametrize("tilt", [0.0, 4.0, -7.0, 10.0])
def test_a_tilted_layer_is_measured_within_half_a_percent(tilt: float) -> None:
    mean, found = thickness(a_section(tilt=tilt))
    assert mean == pytest.approx(75.0, rel=0.005)
    assert found == pytest.approx(tilt, abs=0.3)


@pytest.mark.parametrize(("blur", "noise"), [(0.5, 0), (3.0, 6), (1.5, 12)])
def test_blur_and_noise_leave_the_mean_within_half_a_percent(blur: float, noise: float) -> None:
    assert thickness(a_section(blur=blur, noise=noise))[0] == pytest.approx(75, rel=0.005)


def test_a_wavy_seam_shows_in_the_spread_not_only_in_the_mean() -> None:
    grey = a_section(wave=4.0)
    seams = find_seams(grey, (250, 40), (250, 360), layers=1, profiles=21, apart_px=14)
    layer = measure_layers(seams, HALF_UM, apart_px=14).layers[0]
    assert layer.greatest_um - layer.least_um > 6
    assert layer.mean_um == pytest.approx(75, abs=2)
    assert layer.spread_um is not None
    assert layer.uncertainty_um > layer.spread_um / 5


def test_two_layers_are_told_apart() -> None:
    rows = np.arange(300, dtype=np.float64)[:, None] * np.ones((1, 100))
    grey = np.select([rows < 50.5, rows < 150.5, rows < 190.5], [40, 180, 90], 210)
    seams = find_seams(grey.astype(np.float64), (50, 5), (50, 290), layers=2, profiles=3)
    section = measure_layers(seams, Scale(1.0), apart_px=10)
    assert [layer.mean_um for layer in section.layers] == pytest.approx([100, 40], abs=0.2)


def test_an_oblique_cut_is_corrected_by_its_sine() -> None:
    seams = (Seam((0.0,)), Seam((200.0,)))
    section = measure_layers(seams, Scale(1.0), apart_px=1, mount_deg=30)
    assert section.layers[0].mean_um == pytest.approx(100)
    assert section.layers[0].spread_um is None


def test_the_scale_carries_the_uncertainty_of_bar_and_ends() -> None:
    scale = Scale.from_points((10, 10), (210, 10), 100, um_uncertainty=0.5, px=1.0)
    assert scale.um_per_px == 0.5
    assert scale.relative_uncertainty == pytest.approx(np.hypot(0.005, 0.005))
    layer = measure_layers((Seam((0.0,)), Seam((150.0,))), scale, apart_px=1).layers[0]
    assert layer.uncertainty_um > 75 * scale.relative_uncertainty


def test_what_cannot_be_measured_is_refused_with_words() -> None:
    grey = np.zeros((50, 50))
    with pytest.raises(ValueError, match="leaves the image"):
        profile(grey, (5, 5), (5, 60))
    with pytest.raises(ValueError, match="5 pixels"):
        profile(grey, (5, 5), (5, 8))
    with pytest.raises(ValueError, match="steps"):
        strongest(np.zeros(40), 2)
    with pytest.raises(ValueError, match="cross"):
        measure_layers((Seam((9.0,)), Seam((3.0,))), HALF_UM, apart_px=1)
    with pytest.raises(ValueError, match="two different"):
        find_seams(grey, (5, 5), (5, 5), layers=1)
    with pytest.raises(ValueError, match="same profiles"):
        measure_layers((Seam((9.0,)),), HALF_UM, apart_px=1)
    with pytest.raises(ValueError, match="mount_deg"):
        measure_layers((Seam((0.0,)), Seam((9.0,))), HALF_UM, apart_px=1, mount_deg=0)
    with pytest.raises(ValueError, match="two different points"):
        Scale.from_points((1, 1), (1, 1), 10)
