"""In and out: field book, tables, pictures in; exports out."""
