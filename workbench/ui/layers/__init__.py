"""Which layer: the stack of a system, its planes to choose from, and what is known of each."""
