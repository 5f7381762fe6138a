"""Pages that say how it is worked out: the index, a question, a rule, and the disagreements."""

from __future__ import annotations

from urllib.parse import urlencode

from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.urls import reverse
from django.views.decorators.http import require_safe

from planner.handbook.disagreements import DISAGREEMENTS, touching
from planner.handbook.forms import QuestionForm
from planner.handbook.questions import QUESTIONS, questions_in, questions_on
from planner.handbook.rulebook import by_slug, parts
from planner.handbook.tables import table
from studio.access import member_of, member_required


@require_safe
@member_required
def how(request: HttpRequest) -> HttpResponse:
    """List what can be asked directly and every rule, part by part."""
    rows = [(part, questions_in({one.slug for one in part.rules})) for part in parts()]
    return render(request, "planner/handbook/how.html", {"rows": rows})


@require_safe
@member_required
def how_ask(request: HttpRequest, key: str) -> HttpResponse:
    """Ask one question, answer it, and name the rules behind the answer."""
    question = QUESTIONS.get(key)
    if question is None:
        raise Http404
    form = QuestionForm(question, member_of(request).reads_in, request.GET)
    known, lines = by_slug(), form.answer()
    context = {
        "question": question,
        "form": form,
        "lines": [line for line in lines if not line.folded],
        "rows": [line for line in lines if line.folded],
        "example": urlencode(question.example),
        "rules": [known[name] for name in question.rules],
    }
    return render(request, "planner/handbook/how_ask.html", context)


@require_safe
@member_required
def how_one(request: HttpRequest, name: str) -> HttpResponse:
    """Show one rule: its formula, symbols, limits, source and example, and the questions it helps to answer."""
    rule = by_slug().get(name)
    if rule is None:
        raise Http404
    if request.GET.get("ask") in QUESTIONS:  # questions stood on these pages once, and answers are kept as bookmarks
        return redirect(f"{reverse('how-ask', args=[request.GET['ask']])}?{request.GET.urlencode()}")
    context = {
        "rule": rule,
        "tables": [table(name, member_of(request).reads_in) for name in rule.tables],
        "questions": questions_on(rule.slug),
        "disagreements": touching(rule.slug),
    }
    return render(request, "planner/handbook/how_one.html", context)


@require_safe
@member_required
def how_disagreements(request: HttpRequest) -> HttpResponse:
    """Show together where the trade disagrees, and what is done here."""
    known = by_slug()
    rows = [(one, [known[name] for name in one.rules]) for one in DISAGREEMENTS]
    return render(request, "planner/handbook/how_disagreements.html", {"rows": rows})
