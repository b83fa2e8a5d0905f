"""Draws the pictures and plans of the sample cases; nothing in them was ever photographed."""
