"""What the records of a case say when asked: tables, focus, sources, open points, search."""
