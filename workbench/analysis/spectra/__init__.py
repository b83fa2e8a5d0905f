"""Infrared spectra: correct, pick, compare; candidates, never verdicts."""
