"""Entering tests row by row, with the scale or the stack beside the grid."""
