"""What the page of leaks shows beside its form: leak list, ledger of the repair, registers."""
