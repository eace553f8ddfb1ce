"""What is loaded when a report is only built."""

from __future__ import annotations

import subprocess
import sys


def test_that_building_loads_no_drawing_library():
    code = (
        "import sys, deskapp.report.build.document, deskapp.report.template;"
        "print([name for name in sys.modules if name.partition('.')[0] in ('reportlab', 'PIL')])"
    )
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert done.stdout.strip() == "[]"
