"""Pages that say how it is worked out: the index, one calculator with its direct questions, and the disagreements."""

from __future__ import annotations

from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import render
from django.views.decorators.http import require_safe

from planner.disagreements import DISAGREEMENTS, touching
from planner.explained import by_key, by_slug, parts
from planner.how_forms import QuestionForm
from planner.questions import QUESTIONS, questions_on
from studio.doors import member_of, signed_in


@require_safe
@signed_in
def how(request: HttpRequest) -> HttpResponse:
    """List every calculator, part by part, and the questions that can be asked directly."""
    asked = [(question, by_key()[question.calculators[0]].slug) for question in QUESTIONS.values()]
    return render(request, "planner/how.html", {"parts": parts(), "questions": asked})


@require_safe
@signed_in
def how_one(request: HttpRequest, name: str) -> HttpResponse:
    """Show one calculator: its rule, symbols, limits, source and example, and answer what was asked."""
    calculator = by_slug().get(name)
    if calculator is None:
        raise Http404
    units = member_of(request).reads_in
    forms = [QuestionForm(question, units, request.GET) for question in questions_on(calculator.key)]
    context = {
        "calculator": calculator,
        "questions": [(form, form.answer()) for form in forms],
        "disagreements": touching(calculator.key),
    }
    return render(request, "planner/how_one.html", context)


@require_safe
@signed_in
def how_disagreements(request: HttpRequest) -> HttpResponse:
    """Show together where the trade disagrees, and what is done here."""
    known = by_key()
    rows = [(one, [known[name] for name in one.calculators]) for one in DISAGREEMENTS]
    return render(request, "planner/how_disagreements.html", {"rows": rows})
