"""The parts of the laboratory section: one file for each kind of examination."""
