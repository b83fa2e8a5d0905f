"""What a value type promises: it is read from the words a person writes, and says them again."""

from typing import Protocol, Self, runtime_checkable


class NotUnderstoodError(ValueError):
    """Words that cannot be read as what the column asks for.

    Attributes:
        wrong: What is wrong, in words for the person who wrote it.
        right: What would be right.
    """

    def __init__(self, wrong: str, right: str) -> None:
        """Keep both halves of the sentence."""
        super().__init__(f"{wrong}; {right}")
        self.wrong = wrong
        self.right = right


@runtime_checkable
class Written(Protocol):
    """A value stored as the text it was entered with: `read(str(value)) == value`."""

    @classmethod
    def read(cls, text: str) -> Self:
        """Return the value that `text` says.

        Raises:
            NotUnderstoodError: The text does not say one.
        """
        ...

    def __str__(self) -> str:
        """Return the text that `read` takes back."""
        ...
