"""In and out: field book, tables, pictures in; exports out.

Its modules are imported one by one, so that a form that reads one field opens no spreadsheet.
"""
