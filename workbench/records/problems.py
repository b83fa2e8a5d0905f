"""Problems in data: values with a place and a remedy, never exceptions."""

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Problem:
    """Something in a book, table or file that cannot be taken as it stands.

    Attributes:
        place: Sheet, table or file: "pull-off", "photos/014.jpg".
        cell: Cell or line within it: "K12", "line 7"; empty where the whole place is meant.
        wrong: What is wrong.
        right: What would be right.
        hinders: Whether the place cannot be taken in while this stands; False for a warning.
    """

    place: str
    cell: str
    wrong: str
    right: str
    hinders: bool = True

    def __str__(self) -> str:
        """Return the problem as one sentence."""
        where = f"{self.place}!{self.cell}" if self.cell else self.place
        return f"{where}: {self.wrong}; {self.right}"
