"""Papers that travel with samples: custody form, receipt, the story of each sample."""

from workbench.report.papers.paper import CustodyHeads, write_custody_form, write_receipt

__all__ = ["CustodyHeads", "write_custody_form", "write_receipt"]
