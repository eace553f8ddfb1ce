"""A rule in words."""

from __future__ import annotations

from typing import TYPE_CHECKING

from deskapp.domain import limit as kinds
from deskapp.i18n import N_, _
from deskapp.limits.digits import rate, written
from deskapp.units.display import day_in_words

if TYPE_CHECKING:
    from datetime import date

    from deskapp.domain.limit import Rule, SingleRule

_STATUS = {
    kinds.Verification.CODE_TEXT: N_("The text of the code was read"),
    kinds.Verification.SECONDARY: N_("Known from a secondary source, code text not read"),
    kinds.Verification.MEMORY: N_("Unverified, from memory: check the code text"),
    kinds.Verification.USER: N_("Entered by the user"),
    kinds.Verification.INVENTED: N_("An invented example that binds nobody"),
}


def status_text(
    status: kinds.Verification, verified_by: str = "", verified_on: date | None = None
) -> str:
    """Return how well a row or waiver is known, without a full stop.

    Where somebody compared it with the code text, who did and when is said as well.
    """
    words = _(_STATUS[status])
    if not verified_by:
        return words
    who = _("compared with the code text by {name}").format(name=verified_by)
    if verified_on is not None:
        who = _("{who} on {day}").format(who=who, day=day_in_words(verified_on))
    return f"{words}; {who}"


def rule_text(rule: Rule) -> str:
    """Return the rule as one sentence without a full stop, such as "at most 40 cfm"."""
    if isinstance(rule, kinds.EitherOf):
        return _(" or ").join(_single(part) for part in rule.rules)
    return _single(rule)


def _single(rule: SingleRule) -> str:
    match rule:
        case kinds.PerFloorArea():
            text = _("at most {rate} cfm per 100 ft² of floor area served")
            return text.format(rate=rate(rule.rate))
        case kinds.GreaterOf():
            text = _("at most the greater of {rate} cfm per 100 ft² of floor area and {floor} cfm")
            return text.format(rate=rate(rule.rate), floor=written(rule.floor))
        case kinds.Absolute():
            return _("at most {flow} cfm").format(flow=written(rule.flow))
        case kinds.FloorAreaFraction():
            text = _("at most {fraction} cfm per ft² of floor area served")
            return text.format(fraction=written(rule.fraction))
        case kinds.PercentOfFanFlow():
            text = _("at most {percent}% of the air handler's flow")
            return text.format(percent=written(rule.percent))
        case kinds.PercentReduction():
            text = _("at least {percent}% less than in the first test")
            return text.format(percent=written(rule.percent))
        case kinds.SurfaceClass():
            text = _("at most {k} × p^0.65 L/s per m² of duct surface, p in Pa")
            return text.format(k=written(rule.k))
        case kinds.SurfaceLeakageClass():
            text = _("at most {cl} × P^0.65 cfm per 100 ft² of duct surface, P in in. w.c.")
            return text.format(cl=written(rule.cl))
        case kinds.PerDuctSurface():
            text = _("at most {rate} cfm per 100 ft² of duct surface")
            return text.format(rate=rate(rule.rate))
        case kinds.NoNumber():
            return _(rule.text).rstrip(".")
