"""JCAMP-DX files in: infrared spectra, peak tables, thermograms, in every ASDF form.

References:
    R. S. McDonald and P. A. Wilks, "JCAMP-DX: a standard form for exchange of infrared spectra in
    computer readable form", Applied Spectroscopy 42 (1988) 151-162 (version 4.24).
"""

from workbench.exchange.jcamp.reader import JcampBlock, JcampFile, read_jcamp, spectrum_of

__all__ = ["JcampBlock", "JcampFile", "read_jcamp", "spectrum_of"]
