"""The receiving desk: one job at a bench, by scanner and keyboard."""
