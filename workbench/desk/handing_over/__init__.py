"""Two places on one case: what travels goes out in a bag, and what was done comes back in one."""

from workbench.desk.handing_over.giving import give
from workbench.desk.handing_over.joining import Joining, join, read_hand_over
from workbench.desk.handing_over.parcel import Parcel

__all__ = ["Joining", "Parcel", "give", "join", "read_hand_over"]
