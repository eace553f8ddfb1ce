"""Set-up of a fresh clone by the standard library alone: environment, sample reports, checks."""
