"""One word for one thing: the main terms of the trade are said alike in all texts of a language.

The words are those of the trade in the United States (Spanish) and in Quebec (French); common
practice, no source. A text that says a term another way is named among the exceptions, with why.
"""

from __future__ import annotations

import re
from collections.abc import Iterator

import pytest
from babel.messages.pofile import read_po

from deskapp.catalog import files

LANGUAGES = ("es", "fr_CA")
# A term as a pattern -> how it is said in Spanish and in French, as patterns; `~` ends in more
# letters.
TERMS: dict[str, tuple[str, str]] = {
    "ducts?": ("conducto", "conduit|flexible"),
    "registers?": ("rejilla", "registre|bouche"),
    "total leakage": ("fuga total", "fuite totale"),
    "leakage to (?:outside|outdoors)": (r"fuga(?: \w+)* al exterior", "fuite.* vers l’extérieur"),
    "leakage": ("fuga|pérdida", "fuite"),
    "air handlers?": ("manejadora", "appareil"),
    "baselines?": ("presi(?:ón|ones) de base", "pressions? de base"),
    "rings?": ("anillo", "anneau"),
    "target pressure": ("presión objetivo", "pression cible"),
    "conditioned floor area": ("área de piso acondicionada", "surface de plancher climatisée"),
    "floor areas?": ("áreas? de piso", "surfaces? de plancher"),
    "conditioned space": ("espacio acondicionado", "espaces? climatisé"),
    "thermal envelope": ("envolvente térmica", "enveloppe thermique"),
    "depressuriz~": ("despresuriz", "dépressuris"),
    "pressuriz~": ("presuriz", "pressuris"),
    "fan signals?": ("señal", "signa"),
    "fans?": ("ventilador|extractor", "ventilateur"),
    "gauges?": ("manómetro", "manomètre"),
    "retests?": ("segundas? pruebas?|probar de nuevo", "nouve.* essai"),
    "rough-in": ("obra negra", "avant finition"),
    "crawl spaces?": ("espacios? de arrastre", "vides? sanitaire"),
    "attics?": ("ático", "grenier"),
    "boots?": ("bota", "boîte"),
    "plenums?": ("plénum", "plénum"),
    "mastic": ("masilla", "mastic"),
    "verdicts?": ("veredicto|verdict", "verdict"),
    "clauses?": ("cláusula", "article|clause"),
    "calibrat~": ("calibr", "étalon"),
    "uncertaint~": ("incertidumbre|inciert", "incertitude|incertain"),
    "exponents?": ("exponente", "exposant"),
    "thresholds?": ("umbral", "seuil"),
    "severity": ("gravedad", "gravité"),
    "sketch": ("croquis", "croquis"),
    "permits?": ("permiso|permit", "permis|permet"),
    "dampers?": ("compuerta", "volet|registre"),
    "pressure pans?": ("tapas? de presión", "plateaux? de pression"),
    "air changes": ("cambios de aire", "renouvellements d’air"),
    "flow range": ("intervalo de flujo", "plage de débit"),
    "set-ups?": ("preparaci|condiciones de esta prueba", "montage"),
    "tracer smoke": ("humo de rastreo", "fumée traceuse"),
    "jobs?": ("trabajo", "dossier|essai|visite"),
    "folders?": ("carpeta", "répertoire"),
    "signing key": ("clave de firma", "clé de signature"),
    "recovery copy": ("copia", "copie de récupération"),
}
# Words that would be read as another thing, or are another word for one of these.
NEVER = {
    "es": r"\bductos?\b|\brangos?\b|\bregla de la casa\b|\bparos\b|\bconfiguraci|\bLos humos\b",
    "fr_CA": r"(?<!ression de )(?<!ressions de )\bbases?\b|\bsuccion\b",
}
# Titles, commands and materials that hold a term without meaning it.
NAMES = re.compile(
    r"Duct Sealing and Insulation|Information Sheet 603, Duct Sealing|Key duct sealing locations"
    r"|Longevity of Residential Duct Sealants|SMACNA HVAC Air Duct Leakage Test Manual"
    r"|ductfolio report|--\w+|\bduct board\b",
    re.IGNORECASE,
)
EXCEPTIONS = {
    # Short names of entries beside which the ducts are named already.
    "Around the return ducts, cooling season",
    "Around the return ducts, heating season",
    "Around the supply ducts, cooling season",
    "Around the supply ducts, heating season",
    "Air handler flow may be off by",
}
CIRCLES = "Dots: readings; a ring: off the curve"
"""Begins a text in which a ring is a circle drawn around a point."""


def pairs(language: str) -> Iterator[tuple[str, str]]:
    with files.catalog_source(language).open("rb") as file:
        for message in read_po(file):
            if isinstance(message.id, str):
                yield message.id, str(message.string)
            else:
                yield from zip(message.id, message.string or (), strict=True)


def bare(text: str) -> str:
    """Return the words of a text, without places to fill, access keys and names."""
    return NAMES.sub("", re.sub(r"\{[^{}]*\}|&(?=\w)", "", text))


def holds(text: str, term: str) -> bool:
    pattern = term.rstrip("~") + (r"\w*" if term.endswith("~") else "")
    return bool(re.search(rf"(?<![\w-])(?:{pattern})(?![\w-])", bare(text), re.IGNORECASE))


def said_otherwise(term: str, language: str) -> list[tuple[str, str]]:
    wanted = TERMS[term][LANGUAGES.index(language)]
    return [
        (english, other)
        for english, other in pairs(language)
        if holds(english, term)
        and not re.search(wanted, bare(other), re.IGNORECASE)
        and english not in EXCEPTIONS
        and not (term == "rings?" and english.startswith(CIRCLES))
    ]


@pytest.mark.parametrize("language", LANGUAGES)
@pytest.mark.parametrize("term", TERMS)
def test_that_a_term_is_said_in_one_way(term: str, language: str) -> None:
    assert said_otherwise(term, language) == []


@pytest.mark.parametrize("term", TERMS)
def test_that_the_program_speaks_of_each_term(term: str) -> None:
    """A term nobody uses any more would be checked against nothing."""
    assert any(holds(english, term) for english, _other in pairs("es"))


@pytest.mark.parametrize("language", LANGUAGES)
def test_that_no_other_word_is_used_for_a_term(language: str) -> None:
    wrong = re.compile(NEVER[language], re.IGNORECASE)
    assert [(english, other) for english, other in pairs(language) if wrong.search(other)] == []


@pytest.mark.parametrize("language", LANGUAGES)
def test_that_apostrophes_are_those_of_print(language: str) -> None:
    straight = [other for _english, other in pairs(language) if re.search(r"\w'\w", other)]
    assert straight == []


def test_that_a_term_said_otherwise_is_found(monkeypatch: pytest.MonkeyPatch) -> None:
    read = [("Seal the ducts.", "Selle los tubos."), ("Duct board", "Placa de fibra")]

    def invented(_language: str) -> Iterator[tuple[str, str]]:
        return iter(read)

    monkeypatch.setattr(f"{__name__}.pairs", invented)
    assert said_otherwise("ducts?", "es") == [read[0]]
