"""Laboratory figures: what they say in words, and which record each part can be traced to."""

import numpy as np
import pytest
from matplotlib.figure import Figure

from workbench.analysis.sections import Scale, find_seams, measure_layers
from workbench.analysis.spectra.bands import band_table, candidates
from workbench.analysis.spectra.peaks import Peak, pick
from workbench.analysis.spectra.spectrum import Ordinate, Spectrum
from workbench.analysis.thermal.glass_transition import Definition, glass_transition
from workbench.analysis.xray import label_peaks
from workbench.figures.elements import draw_elements
from workbench.figures.heats import HeatTrace, draw_heats
from workbench.figures.look import Look
from workbench.figures.observed import draw_observed
from workbench.figures.section import draw_section
from workbench.figures.spectra import Trace, draw_spectra
from workbench.figures.thermogram import draw_thermogram
from workbench.figures.xray import XrayTrace, draw_xrays
from workbench.records import Source
from workbench.records.codes import Condition
from workbench.trade.showing import Showing, System

X = np.arange(600.0, 1900.0, 2.0)
RESULT = Source("lab_result", "LR1")


def bands(*said: tuple[float, float]) -> Spectrum:
    y = sum((h / (1 + ((X - p) / 9) ** 2) for p, h in said), np.zeros_like(X))
    return Spectrum("chip", X, y, Ordinate.ABSORBANCE)


def words(figure: Figure) -> list[str]:
    return [text.get_text() for axes in figure.axes for text in axes.texts]


def test_an_overlay_runs_from_high_to_low_and_names_its_traces_and_bands() -> None:
    chip = bands((1261, 0.5), (800, 0.5))
    traces = [Trace(chip, "S-01, face of D", Condition.FAILING, (RESULT,)), Trace(chip, "S-05")]
    figure = Figure()
    marks = draw_spectra(figure, traces, peaks=pick(chip), difference=chip, masked=[(900, 950)])
    assert {"1261", "800"} <= set(words(figure))
    beside = [text.get_text() for text in figure.axes[0].get_yticklabels()]
    assert beside == ["S-05", "S-01, face of D"]
    high, low = figure.axes[0].get_xlim()
    assert high > low
    assert marks.sources == {RESULT}
    assert len(figure.axes) == 2


def test_one_spectrum_keeps_its_ordinate() -> None:
    figure = Figure()
    draw_spectra(figure, [Trace(bands((1000, 0.5)), "S-01")])
    assert len(figure.axes[0].get_yticks()) > 1


def test_a_thermogram_says_each_definition_with_its_temperature() -> None:
    celsius = np.arange(40, 170, 0.2)
    flow = 1 + 0.35 / (1 + np.exp(-(celsius - 105) / 2))
    found = glass_transition(celsius, flow, before=(40, 85), after=(135, 170))
    figure = Figure()
    marks = draw_thermogram(figure, celsius, flow, found, source=RESULT)
    legend = figure.axes[0].get_legend()
    assert legend is not None
    said = [text.get_text() for text in legend.get_texts()]
    assert [line.rsplit(" ", 2)[0] for line in said] == [one.value for one in Definition]
    assert "half step height 105.0 °C" in said
    assert marks.sources == {RESULT}


def test_a_reader_of_fahrenheit_has_it_on_the_curve_and_above_the_axis() -> None:
    celsius = np.arange(40, 170, 0.2)
    flow = 1 + 0.35 / (1 + np.exp(-(celsius - 105) / 2))
    found = glass_transition(celsius, flow, before=(40, 85), after=(135, 170))
    figure = Figure()
    draw_thermogram(figure, celsius, flow, found, look=Look(showing=Showing(System.US)))
    (above,) = figure.axes[0].child_axes
    assert above.get_xlabel() == "temperature, °F"
    low, high = figure.axes[0].get_xlim()
    figure.draw_without_rendering()
    assert above.get_xlim() == pytest.approx((1.8 * low + 32, 1.8 * high + 32))
    legend = figure.axes[0].get_legend()
    assert legend is not None
    assert "half step height 221.0 °F" in [one.get_text() for one in legend.get_texts()]


def test_an_element_not_detected_is_said_so_not_drawn_as_nothing() -> None:
    figure = Figure()
    draw_elements(
        figure,
        [
            ("back, failing", Condition.FAILING, {"C": 70.0, "Zn": 11.0}, RESULT),
            ("back, control", Condition.CONTROL, {"C": 74.0}, None),
        ],
    )
    assert "n.d." in words(figure)
    assert "11" in words(figure)


def test_a_section_says_the_thickness_of_each_layer_and_its_scale() -> None:
    rows = np.arange(300.0)[:, None] * np.ones((1, 200))
    grey = np.where(rows < 50.5, 40.0, np.where(rows < 150.5, 180.0, 90.0))
    seams = find_seams(grey, (100, 5), (100, 290), layers=1, profiles=3)
    section = measure_layers(seams, Scale(0.5), apart_px=10)
    places = [[(90.0 + 10 * n, 5 + at) for n, at in enumerate(seam.at_px)] for seam in seams]
    figure = Figure()
    draw_section(
        figure, grey.astype(np.uint8), places, section, Scale(0.5), names=["seal coat"],
        source=RESULT,
    )  # fmt: skip
    assert any(word.startswith("seal coat: 50 µm") for word in words(figure))
    assert "20 µm" in words(figure)


def test_a_chemistry_is_a_candidate_when_most_of_its_bands_are_found() -> None:
    peaks = pick(bands((1261, 0.5), (1090, 0.6), (1020, 0.4), (800, 0.5)))
    found = candidates(peaks, low=600, high=1900)
    assert found[0].chemistry.id == "silicone"
    assert found[0].share == 1
    assert not candidates([Peak(1000, 1000, 1, 1)], low=600, high=1900)


def test_bands_outside_the_range_are_neither_found_nor_missing() -> None:
    peaks = [Peak(915, 915, 1, 1)]
    (epoxide,) = (c for c in candidates(peaks, low=600, high=1900) if c.chemistry.id == "epoxide")
    assert list(epoxide.outside) == [3056]
    assert not epoxide.missing


def test_every_chemistry_says_where_its_bands_come_from() -> None:
    assert len(band_table()) >= 18
    for one in band_table():
        assert one.status
        assert all(400 <= position <= 4000 for position, _ in one.bands)


def test_thermograms_beside_each_other_bear_their_temperatures_and_the_way_of_exotherms() -> None:
    celsius = np.arange(0.0, 150.0, 0.5)
    flow = -0.2 - 0.1 / (1 + np.exp(-(celsius - 62) / 2))
    traces = [
        HeatTrace(celsius, flow, "S-02, first heat", Condition.FAILING, 62.0, RESULT),
        HeatTrace(celsius, flow, "S-04, first heat", Condition.NON_FAILING),
    ]
    figure = Figure()
    marks = draw_heats(figure, traces, exotherm_up=True)
    assert {"S-02, first heat", "S-04, first heat", "62.0 °C"} <= set(words(figure))
    assert "exotherm up" in figure.axes[0].get_ylabel()
    assert marks.sources == {RESULT}


def test_x_ray_peaks_bear_labels_and_a_question_mark_where_nothing_listed_stands() -> None:
    kev = np.arange(1024, dtype=np.float64) * 0.01
    counts = (
        5 + 900 * np.exp(-(((kev - 4.51) / 0.05) ** 2)) + 400 * np.exp(-(((kev - 6.4) / 0.06) ** 2))
    )
    spectrum = Spectrum("face", kev, np.round(counts))
    figure = Figure()
    peaks = label_peaks(spectrum, ("Ti", "Ba"))
    draw_xrays(figure, [XrayTrace(spectrum, "S-02", Condition.FAILING, (RESULT,))], peaks=peaks)
    assert {"Ti Kα / Ba Lα", "?"} <= set(words(figure))
    assert figure.axes[0].get_yscale() == "log"


def test_observations_stand_beside_their_picture_and_each_can_be_picked() -> None:
    picture = np.full((60, 80, 3), 128, dtype=np.uint8)
    other = Source("microscopy", "M-2")
    for size in ((8, 4), (4, 6)):
        figure = Figure(figsize=size)
        marks = draw_observed(
            figure, picture, [("M-1, voids", "few", RESULT), ("M-2, gel", "none", other)],
            title="S-06/1, polished section",
        )  # fmt: skip
        assert {"M-1, voids", "few", "M-2, gel", "none"} <= set(words(figure))
        assert marks.sources == {RESULT, other}
