"""Labels for samples, as a PDF: words for people, QR and Code 128 for scanners."""

from workbench.exchange.labels.sheet import LabelWords, label_words, write_labels
from workbench.exchange.labels.stock import Stock, stocks
from workbench.exchange.labels.symbols import find_payload, payload_of

__all__ = [
    "LabelWords",
    "Stock",
    "find_payload",
    "label_words",
    "payload_of",
    "stocks",
    "write_labels",
]
