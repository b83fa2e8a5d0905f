"""The laboratory at the desk: originals read, evaluated, and what comes of them recorded.

Import its modules when they are asked for: they bring numpy and scipy.
"""
