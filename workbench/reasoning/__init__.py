"""What follows: observations from records, candidate causes, exclusions, grades."""
