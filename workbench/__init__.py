"""Workbench: one coating-failure investigation, from field book to report."""

__version__ = "0.1.0"
