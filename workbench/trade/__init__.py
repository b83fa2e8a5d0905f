"""What a reading means: the trade's formulas and scales, numbers in and numbers out."""
