"""The pages of the chapters."""
