"""Who held it, and is it unchanged: ledger, digests, verification."""
