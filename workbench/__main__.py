"""Run the workbench: `python -m workbench`."""

from workbench.cli.main import main

main()
