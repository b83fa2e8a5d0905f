"""The desk from a terminal."""
