"""What pip says when it stops, in words that name the way out."""

import re

from deskapp.bootstrap.speech import tail

_NO_REGISTRY = re.compile(
    r"NewConnectionError|Max retries exceeded|name resolution|getaddrinfo|ProxyError"
    r"|ConnectTimeout|ReadTimeout|Connection refused|Network is unreachable|SSLError"
    r"|certificate verify|from versions: none",
    re.IGNORECASE,
)
_NO_BUILD = re.compile(r"No matching distribution|Could not find a version", re.IGNORECASE)
_HASH = re.compile(r"DO NOT MATCH THE HASHES|hash(es)? .*mismatch", re.IGNORECASE)
_DISK = re.compile(r"No space left", re.IGNORECASE)


def explain(said: str) -> str:
    """Return a message for what pip wrote to its error stream: cause, way out, its own words."""
    if _DISK.search(said):
        cause = "The disk is full. The environment needs about 700 MB; make room and try again."
    elif _HASH.search(said):
        cause = (
            "A downloaded package is not the one named in the lock file, so it was not installed.\n"
            "Try again; if it happens again, ask whoever runs the package mirror you use."
        )
    elif _NO_REGISTRY.search(said):
        cause = (
            "pip could not reach its package registry, so the packages could not be downloaded.\n"
            "Check the network connection and try again. Where a proxy or a mirror is needed, set\n"
            "HTTPS_PROXY or PIP_INDEX_URL (or pip's own configuration file) first."
        )
    elif _NO_BUILD.search(said):
        cause = (
            "A package has no ready-made build for this system. Ductfolio runs on 64-bit Windows,\n"
            "macOS 14 or newer, and Linux with glibc 2.34 or newer, with Python 3.11 to 3.14."
        )
    else:
        cause = "pip stopped before the packages were installed. Mend what it names and try again."
    return f"{cause}\npip said:\n{tail(said, 6)}"
