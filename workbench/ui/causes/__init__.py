"""Candidate causes against observations, and what is decided about them."""
