"""The two checks as fields: what is written in them, as the desk takes it."""

from collections.abc import Callable

from PySide6.QtWidgets import QWidget

from workbench.desk.receiving import (
    DeliveryMode,
    ItemCheck,
    OuterCondition,
    OutsideCheck,
    Papers,
)
from workbench.records import NotUnderstoodError, Quantity
from workbench.records.codes import SealCondition, YesNo
from workbench.ui.receiving.fields import Fields

_YES_NO = tuple(YesNo)
_SEAL = tuple(SealCondition)


class OutsideFields(Fields):
    """What is looked at before anything is opened."""

    def __init__(self, told: Callable[[], None], parent: QWidget) -> None:
        """Make the fields; `told` is called when the person wrote."""
        said = (
            ("mode", "How it came", tuple(DeliveryMode)),
            ("by", "Who brought it", ()),
            ("number", "Consignment number", ()),
            ("condition", "Package", tuple(OuterCondition)),
            ("papers", "Papers", tuple(Papers)),
            ("seal", "Outer seal number", ()),
            ("seal_condition", "Outer seal", _SEAL),
            ("containers", "Containers", ()),
        )
        super().__init__(said, told, parent, columns=2)

    def check(self) -> OutsideCheck:
        """Return what is said so far; a count that is no number is not said."""
        count = self.text("containers")
        mode, condition = self.text("mode"), self.text("condition")
        papers, seal = self.text("papers"), self.text("seal_condition")
        return OutsideCheck(
            mode=DeliveryMode(mode) if mode else None,
            by=self.text("by"),
            number=self.text("number"),
            condition=OuterCondition(condition) if condition else None,
            papers=Papers(papers) if papers else None,
            seal=self.text("seal"),
            seal_condition=SealCondition(seal) if seal else None,
            containers=int(count) if count.isdecimal() else None,
        )


class ItemFields(Fields):
    """What is looked at on one item."""

    def __init__(self, told: Callable[[], None], parent: QWidget) -> None:
        """Make the fields; `told` is called when the person wrote."""
        said = (
            ("label_legible", "Label legible", _YES_NO),
            ("label_agrees", "Label agrees with papers", _YES_NO),
            ("container_whole", "Container whole", _YES_NO),
            ("leaking", "Leaking", _YES_NO),
            ("seal", "Seal number", ()),
            ("seal_condition", "Seal", _SEAL),
            ("condition", "Condition, in words", ()),
            ("amount", "Weighed or counted", ()),
            ("hazards", "Hazards", ()),
            ("place", "Place of storage", ()),
        )
        super().__init__(said, told, parent)
        self.photo = ""

    def check(self, sample: str) -> ItemCheck:
        """Return what is said so far of `sample`.

        Raises:
            NotUnderstoodError: The amount is no number with a unit.
        """

        def answer(name: str) -> YesNo | None:
            said = self.text(name)
            return YesNo(said) if said else None

        seal, amount = self.text("seal_condition"), self.text("amount")
        return ItemCheck(
            sample=sample,
            label_legible=answer("label_legible"),
            label_agrees=answer("label_agrees"),
            container_whole=answer("container_whole"),
            leaking=answer("leaking"),
            seal=self.text("seal"),
            seal_condition=SealCondition(seal) if seal else None,
            condition=self.text("condition"),
            amount=Quantity.read(amount) if amount else None,
            hazards=self.text("hazards"),
            place=self.text("place"),
            photo=self.photo,
        )

    def amount_trouble(self) -> str:
        """Return what is wrong with the amount, or an empty text."""
        try:
            self.check("")
        except NotUnderstoodError as wrong:
            return str(wrong)
        return ""

    def show_check(self, check: ItemCheck) -> None:
        """Write a check into the fields."""
        for name in self.fields:
            value = getattr(check, name)
            self.put(name, "" if value is None else str(value))
        self.photo = check.photo

    def as_expected(self, seal: str) -> None:
        """Say that this one item was looked at and is as it should be, sent under `seal`."""
        for name, word in (
            ("label_legible", YesNo.YES), ("label_agrees", YesNo.YES),
            ("container_whole", YesNo.YES), ("leaking", YesNo.NO),
            ("seal_condition", SealCondition.INTACT if seal else SealCondition.ABSENT),
        ):  # fmt: skip
            self.put(name, word)
        self.put("seal", seal)
