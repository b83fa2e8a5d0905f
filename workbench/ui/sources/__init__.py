"""How do you know? The tree of sources behind anything shown."""
