"""How the set-up speaks: plain lines at once, and one kind of stop."""


class SetupError(Exception):
    """The set-up cannot go on; the text says what is missing and how to mend it."""


def say(text: str) -> None:
    """Print `text` at once, so that it stands in order with the output of other programs."""
    print(text, flush=True)


def tail(text: str, lines: int = 12) -> str:
    """Return the last `lines` lines of `text` that hold something, indented."""
    kept = [line for line in text.splitlines() if line.strip()][-lines:]
    return "\n".join(f"    {line}" for line in kept)
