"""The document: one file per section, over python-docx."""
