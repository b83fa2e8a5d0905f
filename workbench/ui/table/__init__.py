"""Records as rows: one model and one view for every type."""
