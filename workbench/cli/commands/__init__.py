"""One file per command: its name is the command's, `run` does it, its docstring is the help.

The files are imported whenever any command runs, so what one of them needs it imports in `run`.
"""
