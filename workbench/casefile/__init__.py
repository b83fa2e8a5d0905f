"""Where it is kept: tables, shelves, steps, originals, journal."""
