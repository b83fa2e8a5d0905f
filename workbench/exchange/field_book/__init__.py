"""The field book: the tables that go to site and come back, as a workbook or as CSV files."""
