"""What a failure follows: day, batch, crew, feature, side, and place."""
