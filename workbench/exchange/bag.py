"""Bags of files with their checksums (RFC 8493): written, and read with nothing taken on trust.

A bag shows that its files are complete and unchanged since it was made. It is no proof against
somebody who changes a file and writes the checksums anew (RFC 8493, 5.4); for that the bag's own
name and checksum must be kept elsewhere.
"""

import hashlib
import re
import shutil
import unicodedata
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path

from workbench.records import KnownError, Problem

Step = Callable[[int, int], None]
ALGORITHMS = ("sha512", "sha256")
_DECLARATION = "BagIt-Version: 1.0\nTag-File-Character-Encoding: UTF-8\n"
_CHUNK = 1 << 20
_RESERVED = {"con", "prn", "aux", "nul"} | {f"{n}{i}" for n in ("com", "lpt") for i in range(1, 10)}
_MOST_TAG_BYTES = 50_000_000


class BagError(KnownError):
    """A bag that cannot be written, or is no bag."""


@dataclass(frozen=True, slots=True)
class BagCheck:
    """What was found in a bag.

    Attributes:
        complete: Every file that is listed is there, and every file there is listed.
        valid: Complete, and every checksum agrees.
        files: The payload files by their names within `data/`; empty where not valid.
        info: What `bag-info.txt` says, in its order.
        problems: What is wrong, file by file.
    """

    complete: bool
    valid: bool
    files: Mapping[str, Path]
    info: tuple[tuple[str, str], ...]
    problems: tuple[Problem, ...]


def safe_name(name: str, taken: set[str] | None = None) -> str:
    """Return a payload name that every system can hold, and that no other one equals.

    Letters are composed (NFC); characters that Windows refuses become `_`, its reserved names get
    one before them; names that differ only in case or form get a number.

    Raises:
        BagError: The name leaves the bag.
    """
    parts = unicodedata.normalize("NFC", name.replace("\\", "/")).split("/")
    if not all(parts) or any(part in {".", ".."} or part.startswith("~") for part in parts):
        raise BagError(f"“{name}” cannot be the name of a file in a bag")
    clean = []
    for part in parts:
        bare = re.sub(r'[<>:"|?*\x00-\x1f\x7f]', "_", part).rstrip(" .") or "_"
        clean.append(f"_{bare}" if bare.split(".")[0].casefold() in _RESERVED else bare)
    whole = "/".join(clean)
    seen = taken if taken is not None else set()
    stem, dot, ending = whole.rpartition(".")
    number, made = 2, whole
    while made.casefold() in seen:
        made = f"{stem}-{number}{dot}{ending}" if stem else f"{whole}-{number}"
        number += 1
    seen.add(made.casefold())
    return made


def write_bag(
    folder: Path,
    payload: Mapping[str, Path | bytes],
    info: Sequence[tuple[str, str]],
    step: Step = lambda _done, _whole: None,
) -> dict[str, str]:
    """Write a bag and return the names given within `data/`, by the names asked for.

    Args:
        folder: The bag; it must not be there yet. It appears whole or not at all.
        payload: Files or bytes by the name that each shall have.
        info: Labels and values for `bag-info.txt`, in order; the payload's size is added.
        step: Told after each file; may raise to stop.

    Raises:
        BagError: The folder is there already, or a name leaves the bag.
    """
    if folder.exists():
        raise BagError(f"{folder} is there already; choose another name")
    building = folder.with_name(f".{folder.name}.part")
    shutil.rmtree(building, ignore_errors=True)
    try:
        names = _fill(building, payload, info, step)
        building.rename(folder)
    except BaseException:
        shutil.rmtree(building, ignore_errors=True)
        raise
    return names


def _fill(
    building: Path,
    payload: Mapping[str, Path | bytes],
    info: Sequence[tuple[str, str]],
    step: Step,
) -> dict[str, str]:
    taken: set[str] = set()
    names = {name: safe_name(name, taken) for name in payload}
    digests: dict[str, dict[str, str]] = {}
    size = 0
    (building / "data").mkdir(parents=True)
    for done, (name, content) in enumerate(payload.items(), 1):
        target = building / "data" / names[name]
        target.parent.mkdir(parents=True, exist_ok=True)
        size += _copy(content, target)
        digests[f"data/{names[name]}"] = _digests(target)
        step(done, len(payload))
    tags = {
        "bagit.txt": _DECLARATION,
        "bag-info.txt": _info_text([*info, ("Payload-Oxum", f"{size}.{len(payload)}")]),
    }
    tags |= {f"manifest-{a}.txt": _manifest(digests, a) for a in ALGORITHMS}
    for name, text in tags.items():
        (building / name).write_text(text, encoding="utf-8", newline="\n")
    of_tags = {name: _digests(building / name) for name in tags}
    for algorithm in ALGORITHMS:
        text = _manifest(of_tags, algorithm)
        (building / f"tagmanifest-{algorithm}.txt").write_text(text, "utf-8", newline="\n")
    return names


def _copy(content: Path | bytes, target: Path) -> int:
    if isinstance(content, bytes):
        target.write_bytes(content)
    else:
        shutil.copyfile(content, target)
    return target.stat().st_size


def _digests(path: Path) -> dict[str, str]:
    found = {name: hashlib.new(name) for name in ALGORITHMS}
    with path.open("rb") as source:
        while chunk := source.read(_CHUNK):
            for one in found.values():
                one.update(chunk)
    return {name: one.hexdigest() for name, one in found.items()}


def _manifest(digests: Mapping[str, Mapping[str, str]], algorithm: str) -> str:
    lines = (f"{digests[name][algorithm]}  {_encoded(name)}\n" for name in sorted(digests))
    return "".join(lines)


def _encoded(name: str) -> str:
    return name.replace("%", "%25").replace("\r", "%0D").replace("\n", "%0A")


def _decoded(name: str) -> str:
    return (
        name.replace("%0D", "\r").replace("%0d", "\r").replace("%0A", "\n").replace("%0a", "\n")
        .replace("%25", "%")
    )  # fmt: skip


def _info_text(info: Sequence[tuple[str, str]]) -> str:
    return "".join(f"{label}: {' '.join(value.split())}\n" for label, value in info)


def read_bag(folder: Path, step: Step = lambda _done, _whole: None) -> BagCheck:
    """Return what is in a bag, checked file by file; nothing outside it is touched or fetched.

    Args:
        folder: The bag.
        step: Told after each file; may raise to stop.

    Raises:
        BagError: It is no bag.
    """
    declared = _tag(folder, "bagit.txt")
    if not re.match(r"BagIt-Version: \d+\.\d+\nTag-File-Character-Encoding: UTF-8\n?\Z", declared):
        raise BagError(f"{folder} is no bag: its bagit.txt does not say so")
    if (folder / "fetch.txt").exists():
        raise BagError(f"{folder} wants files fetched from elsewhere; that is not done")
    problems: list[Problem] = []
    listed = list(_listed(folder, problems))
    present = {_relative(folder, path) for path in _files(folder / "data")}
    _tell_missing({name for _, name, _ in listed}, present, problems)
    complete = not problems
    for done, (algorithm, name, digest) in enumerate(listed, 1):
        path = folder / name
        if name in present and _digests(path)[algorithm] != digest:
            problems.append(Problem(name, "", f"its {algorithm} differs", "the file as it was"))
        step(done, len(listed))
    problems += _tag_problems(folder)
    valid = not problems
    payload = {name.removeprefix("data/"): folder / name for name in sorted(present)}
    return BagCheck(complete, valid, payload if valid else {}, _info(folder), tuple(problems))


def _tag(folder: Path, name: str) -> str:
    path = folder / name
    try:
        if path.is_symlink() or path.stat().st_size > _MOST_TAG_BYTES:
            raise BagError(f"{path} is no tag file of a bag")
        return path.read_text("utf-8")
    except (OSError, UnicodeDecodeError) as wrong:
        raise BagError(f"{folder} is no bag: {name} cannot be read") from wrong


def _listed(folder: Path, problems: list[Problem]) -> Iterator[tuple[str, str, str]]:
    """Yield algorithm, name and digest of each line of the payload manifests."""
    manifests = [a for a in ALGORITHMS if (folder / f"manifest-{a}.txt").exists()]
    if not manifests:
        raise BagError(f"{folder} has no manifest with SHA-256 or SHA-512")
    for algorithm in manifests:
        seen: set[str] = set()
        for line in _tag(folder, f"manifest-{algorithm}.txt").splitlines():
            digest, _, name = line.partition(" ")
            name = _decoded(name.strip())
            if not _inside(name) or name in seen:
                problems.append(Problem(f"manifest-{algorithm}.txt", name, "no name of a payload "
                                        "file, or it stands twice", "data/…, once"))  # fmt: skip
                continue
            seen.add(name)
            yield algorithm, name, digest.lower()


def _inside(name: str) -> bool:
    parts = name.split("/")
    return (
        parts[0] == "data"
        and len(parts) > 1
        and "\\" not in name
        and not any(part in {"", ".", ".."} or part.startswith("~") for part in parts)
        and not re.search(r"[A-Za-z]:", name)
    )


def _files(folder: Path) -> Iterator[Path]:
    for path in sorted(folder.rglob("*")):
        if path.is_symlink():
            raise BagError(f"{path} leads out of the bag")
        if path.is_file():
            yield path


def _relative(folder: Path, path: Path) -> str:
    return path.relative_to(folder).as_posix()


def _tell_missing(listed: set[str], present: set[str], problems: list[Problem]) -> None:
    told = [(name, "listed and not there", "the file") for name in sorted(listed - present)]
    told += [(name, "there and not listed", "only what is listed") for name in present - listed]
    problems += [Problem(name, "", wrong, right) for name, wrong, right in told]


def _tag_problems(folder: Path) -> Iterator[Problem]:
    for algorithm in ALGORITHMS:
        manifest = f"tagmanifest-{algorithm}.txt"
        if not (folder / manifest).exists():
            continue
        for line in _tag(folder, manifest).splitlines():
            digest, _, name = line.partition(" ")
            name = name.strip()
            path = folder / name
            there = "/" not in name and ".." not in name and path.is_file()
            if not there or _digests(path)[algorithm] != digest.lower():
                yield Problem(name, "", f"its {algorithm} differs, or it is not there", "as it was")


def _info(folder: Path) -> tuple[tuple[str, str], ...]:
    if not (folder / "bag-info.txt").exists():
        return ()
    said: list[tuple[str, str]] = []
    for line in _tag(folder, "bag-info.txt").splitlines():
        if line[:1].isspace() and said:
            said[-1] = (said[-1][0], f"{said[-1][1]} {line.strip()}")
        elif ":" in line:
            label, _, value = line.partition(":")
            said.append((label.strip(), value.strip()))
    return tuple(said)
