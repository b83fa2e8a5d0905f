"""What goes wrong outside the program: problems in data as values, failed acts as exceptions."""

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


class KnownError(Exception):
    """Something that the surroundings or the person's input did, told in words for a person.

    Errors of this class reach the screen as they read; any other class is a defect.
    """


class Cancelled(Exception):  # noqa: N818 - a wish of the person, not an error
    """Raised by a `step` to stop long work; what the work began is put back."""
