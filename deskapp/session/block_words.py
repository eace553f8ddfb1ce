"""What the blocks of a report and their texts are called, for people who change a template."""

from __future__ import annotations

from deskapp.i18n import N_, _, in_sentence

BLOCK_WORDS = {
    "letterhead": N_("Head of page 1"),
    "text": N_("Text"),
    "cautions": N_("Safety notes"),
    "facts": N_("Facts of the job"),
    "leaks": N_("Leaks with photos"),
    "leak_table": N_("Leaks as a table"),
    "photos": N_("Photos"),
    "page_break": N_("New page"),
    "dangers": N_("Danger panel"),
    "answer": N_("The answer"),
    "system_lines": N_("One line for each system"),
    "scale": N_("Scale with measured and limit"),
    "next_steps": N_("What to do next"),
    "hole": N_("All leaks as one hole"),
    "missing": N_("What is not recorded"),
    "long_texts": N_("Long texts in full"),
    "each_system": N_("For each system"),
    "each_test": N_("For each test"),
    "verdicts": N_("Verdicts"),
    "limits": N_("Limits and their arithmetic"),
    "system_facts": N_("Facts of the system"),
    "set_up": N_("Set-up of the test"),
    "readings": N_("Readings"),
    "comparison": N_("Tests side by side"),
    "arithmetic": N_("Arithmetic"),
    "instruments": N_("Instruments in full"),
    "instrument_table": N_("Instruments as a table"),
    "findings": N_("Findings of the checks"),
    "signature": N_("Statement and signature"),
    "close": N_("Too close to call"),
    "delivery": N_("What reaches the rooms"),
    "worst_registers": N_("Vents with leaks near by"),
    "house_air": N_("Air tightness of the house"),
    "pans": N_("Pressure pan readings"),
    "register_walk": N_("Registers as bars"),
    "guidance": N_("What to try"),
    "sides": N_("Supply and return apart"),
    "budget": N_("Budget of uncertainty"),
    "fit": N_("Leakage curve"),
    "directions": N_("Both directions"),
    "outside": N_("How the house was held"),
    "classes": N_("Duct classes"),
    "part": N_("Another part"),
    "revisions": N_("Issues"),
    "editions": N_("Editions kept with the job"),
    "before_after": N_("Safety before and after the work"),
    "what_changed": N_("What the work changed"),
    "issue_mark": N_("Number and mark of the issue"),
    "ledger": N_("What each repair gained"),
    "retest": N_("Retests as a table"),
    "stops": N_("Open matters of safety"),
    "acknowledged": N_("What was acknowledged"),
    "appliances": N_("Appliances"),
    "left_as_found": N_("Left as found"),
    "still_changed": N_("What is still changed"),
    "sketch": N_("Sketch"),
}
_ENTRY_WORDS = {
    "heading": N_("Heading"),
    "title": N_("Title"),
    "subtitle": N_("Line below the title"),
    "text": N_("Text"),
    "intro": N_("Opening words"),
    "note": N_("Note below"),
    "caption": N_("Caption"),
    "word": N_("Word"),
    "label": N_("Label"),
    "columns": N_("Column"),
    "rings": N_("Column"),
    "sentences": N_("Sentence"),
    "steps": N_("Step"),
    "lines": N_("Line"),
    "passes": N_("Passed"),
    "fails": N_("Not passed"),
    "undecided": N_("No verdict"),
    "waived": N_("Waived"),
    "none_found": N_("If there is none"),
    "none_recorded": N_("If there is none"),
    "words": N_("Words"),
    "header_left": N_("header, left"),
    "header_right": N_("header, right"),
    "continued": N_("heading above rows on a further page"),
    "footer": N_("foot"),
    "page": N_("page number"),
    "things": N_("Thing"),
    "marks": N_("Mark"),
    "statement": N_("Statement"),
}


def entry_words(path: tuple[str | int, ...]) -> str:
    """Return what a text is called: its names in the file in plain words, and its number."""
    words = ""
    for part in path:
        if isinstance(part, int):
            words += f" {part + 1}"
        else:
            name = _(_ENTRY_WORDS[part]) if part in _ENTRY_WORDS else part.replace("_", " ")
            words = f"{words}, {in_sentence(name)}" if words else name
    return words[:1].upper() + words[1:]
