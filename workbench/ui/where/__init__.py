"""Where: the plan of the site, its areas and places to choose from, and what was found there."""
