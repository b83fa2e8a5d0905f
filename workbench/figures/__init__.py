"""How it looks: each draw_xxx works on a bare matplotlib Figure, for screen and report alike."""
