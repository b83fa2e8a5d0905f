"""One form for every record type, built from its fields."""
