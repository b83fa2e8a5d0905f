"""The commands of the workbench."""


def main() -> None:
    """Run the command that the arguments name."""
