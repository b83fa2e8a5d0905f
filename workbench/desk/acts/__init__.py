"""What a person does to a case: each act is one transaction and one line of the journal."""

from workbench.casefile import FieldChange, FileToKeep
from workbench.desk.acts.act import Act, ActRefusedError, Plan, adding, changing, named
from workbench.desk.acts.add import Add
from workbench.desk.acts.change import Change
from workbench.desk.acts.keep import Keep
from workbench.desk.acts.note_check import NoteCheck
from workbench.desk.acts.receive import Receive
from workbench.desk.acts.take_in import TakeIn
from workbench.desk.acts.withdraw import Withdraw

__all__ = [
    "Act",
    "ActRefusedError",
    "Add",
    "Change",
    "FieldChange",
    "FileToKeep",
    "Keep",
    "NoteCheck",
    "Plan",
    "Receive",
    "TakeIn",
    "Withdraw",
    "adding",
    "changing",
    "named",
]
