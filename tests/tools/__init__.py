"""Tools that make what the tests and the sample cases are made of."""
