"""Thermograms: glass transition by five definitions, residual exotherm, mixing rules, checks."""
