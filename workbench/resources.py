"""Where the data files of the program lie, in a checkout and in an installed wheel."""

from pathlib import Path

_ROOM = Path(__file__).parent


def resource(name: str) -> Path:
    """Return the path of the resource called `name`, such as `units.txt` or `methods`.

    Raises:
        FileNotFoundError: The program has no such resource.
    """
    return _locate("_resources", "resources", name)


def sample_case(name: str) -> Path:
    """Return the folder of the sample case called `name`.

    Raises:
        FileNotFoundError: There is no such sample case.
    """
    return _locate("_sample_cases", "sample_cases", name)


def sample_case_names() -> tuple[str, ...]:
    """Return the names of the sample cases, the first one first."""
    folder = _locate("_sample_cases", "sample_cases", "")
    return tuple(sorted(one.name for one in folder.iterdir() if one.is_dir()))


def report_profile_names() -> tuple[str, ...]:
    """Return the names of the report profiles."""
    return tuple(sorted(path.stem for path in resource("report/profiles").glob("*.toml")))


def _locate(installed: str, checkout: str, name: str) -> Path:
    for folder in (_ROOM / installed, _ROOM.parent / checkout):
        if (folder / name).exists():
            return folder / name
    raise FileNotFoundError(f"the program has no {checkout}/{name}")
