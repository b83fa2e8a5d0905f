"""The figures of a chapter below its records, drawn by the same functions as the report's."""
