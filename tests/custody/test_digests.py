"""SHA-256 of files, against published examples."""

import io
from pathlib import Path

import pytest

from workbench.custody.digests import CHUNK_BYTES, copy_with_digest, digest_of

# the example values of FIPS 180-4 for SHA-256, from memory; sha256sum of GNU gives the same
NIST = [
    (b"abc", "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad"),
    (
        b"abcdbcdecdefdefgefghfghighijhijkijkljklmklmnlmnomnopnopq",
        "248d6a61d20638b8e5c026930c3e6039a33ce45964ff2167f6ecedd419db06c1",
    ),
    (b"", "e3b0c44298fc1c149afbf4c8996fb92427ae41e4649b934ca495991b7852b855"),
]


@pytest.mark.parametrize(("content", "digest"), NIST)
def test_digests_are_those_of_the_published_examples(
    content: bytes, digest: str, tmp_path: Path
) -> None:
    path = tmp_path / "file"
    path.write_bytes(content)
    copy = io.BytesIO()
    assert digest_of(path) == digest
    assert copy_with_digest(io.BytesIO(content), copy) == digest
    assert copy.getvalue() == content


def test_the_bytes_that_went_through_are_told(tmp_path: Path) -> None:
    content = b"x" * (2 * CHUNK_BYTES + 7)
    path = tmp_path / "file"
    path.write_bytes(content)
    read: list[int] = []
    copied: list[int] = []
    digest_of(path, read.append)
    copy_with_digest(io.BytesIO(content), io.BytesIO(), copied.append)
    assert read == copied == [CHUNK_BYTES, CHUNK_BYTES, 7]
