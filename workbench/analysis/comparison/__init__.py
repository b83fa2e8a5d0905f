"""How two groups compare: effect first, then its interval, then p."""
