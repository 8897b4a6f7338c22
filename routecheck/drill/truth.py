"""What is said of a route of a drill once it is answered: the error, what the tool says of it, why people make it."""

from __future__ import annotations

import re
from dataclasses import replace
from typing import TYPE_CHECKING

from routecheck.citations import cite
from routecheck.drill.error_kinds import CLEAN, ERROR_KINDS
from routecheck.frozen_dataclass import dataclass
from routecheck.model import Role, Weight
from routecheck.presentation.comparison import difference_sentences
from routecheck.presentation.finding_details import RECKONED_IN
from routecheck.presentation.finding_rows import fact_text

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator

    from routecheck.drill.cases import DrillCase
    from routecheck.model import Assessment, Finding, RouteInput

_MOST_FACTS = 6


@dataclass(frozen=True, slots=True)
class Truth:
    """In sentences; "" or () where there is nothing to say."""

    error: str
    finding: str
    evidence: tuple[str, ...]
    citation: str
    why: str

    @property
    def lines(self) -> tuple[str, ...]:
        """All of it, a line each."""
        return tuple(filter(None, (self.error, self.finding, *self.evidence, self.citation, self.why)))

    @property
    def paragraphs(self) -> tuple[str, ...]:
        """The error; what the tool says of it; why people make it."""
        tool = "\n".join(filter(None, (self.finding, *self.evidence, self.citation)))
        return tuple(filter(None, (self.error, tool, self.why)))


def tell_truth(case: DrillCase, assess: Callable[[RouteInput], Assessment]) -> Truth:
    """The truth of a case: the tool says it of the route alone, and where it finds nothing there, by the clearance."""
    entered = replace(case.as_entered(), role=Role.ENTERED)
    answer = assess(entered)
    finding = next(_heavy_findings(answer), None) if case.kind == CLEAN else find_error(case, answer)
    if finding:
        facts = [fact for fact in finding.facts if fact.unit != RECKONED_IN]
        evidence = tuple(f"{fact.name}: {fact_text(fact)}" for fact in facts[:_MOST_FACTS])
        rests = "; ".join(str(cite(key)) for key in finding.citations)
        said = f"The tool: {finding.message}", evidence, f"Rests on: {rests}" if rests else ""
    else:
        said = _compare(assess(replace(entered, other=replace(case.as_meant(), role=Role.CLEARED))))
    return Truth(_describe_error(case), *said, _explain(case))


def find_error(case: DrillCase, entered: Assessment) -> Finding | None:
    """The first finding, Wrong or Doubtful, that names a wrong word or what was meant."""
    named = [word.partition("/")[0] for word in (*case.words, *case.correction.split())]
    heavy = _heavy_findings(entered)
    return next((one for one in heavy if set(re.findall(r"\w+", one.message)) & set(named)), None)


def _heavy_findings(answer: Assessment) -> Iterator[Finding]:
    return (finding for finding in answer.findings if finding.weight is not Weight.NOTE)


def _describe_error(case: DrillCase) -> str:
    if case.kind == CLEAN:
        return "It is clean." + (" It looks odd and is right." if case.looks_odd else "")
    return f"{' '.join(case.words)}: {case.kind}. Meant: {case.correction}."


def _explain(case: DrillCase) -> str:
    return case.sentence if case.kind == CLEAN else ERROR_KINDS[case.kind].explain(case.sentence)


def _compare(compared: Assessment) -> tuple[str, tuple[str, ...], str]:
    sentences = difference_sentences(compared.comparison) if compared.comparison else []
    if not sentences:
        return "The tool finds nothing, in the route or against the clearance.", (), ""
    return "The tool finds nothing of it in the route alone. Against the clearance:", tuple(sentences), ""
