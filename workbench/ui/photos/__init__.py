"""Photographs: small pictures in the background, marks over the large ones, two side by side."""
