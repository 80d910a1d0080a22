"""A theme reads no file, reaches no interpreter, does not run on for ever, and alters no claim."""

import resource
import time
from dataclasses import replace
from html import unescape
from pathlib import Path

import pytest
from helpers.pages import THEMES, theme_of
from helpers.small_site import small_material, whole_site

from sitegen.findings import ThemeError
from sitegen.render import sandbox
from sitegen.render.pages import render_page, render_part
from sitegen.render.prose import draw_claim, draw_line
from sitegen.render.themes import find_theme
from sitegen.site.parts import IconArray, Page, Span

PAGES = {page.address: page for page in whole_site(small_material())}
ANIMAL = next(page for page in PAGES.values() if page.template == "animal.html" and page.content.hidden)


def rendered(folder: Path, template: str, page: Page = ANIMAL) -> str:
    theme = find_theme("mine", theme_of(folder, "x", **{page.template.removesuffix(".html"): template}))
    return render_part(page, theme)


@pytest.mark.parametrize(
    "template",
    [
        "{% include '/etc/passwd' %}",
        "{% include '../../../../etc/passwd' %}",
        "{% import 'os' as os %}{{ os }}",
        "{{ self.__init__.__globals__ }}",
        "{{ page.__class__.__mro__[1].__subclasses__() }}",
        "{{ frame.labels.__class__.__init__.__globals__['__builtins__'] }}",
        "{{ cycler.__init__.__globals__ }}",
        "{{ lipsum.__globals__.os.popen('id').read() }}",
        "{{ loop.__class__ }}",
        "{{ (page.name|attr('__class__')) }}",
        "{{ ().__class__.__base__ }}",
        "{{ page.name.__class__ }}",
        "{{ open('/etc/passwd') }}",
        "{{ 'x'.format_map(page) }}",
    ],
)
def test_no_file_and_no_interpreter_is_reached(tmp_path: Path, template: str) -> None:
    with pytest.raises(ThemeError, match=r"animal\.html"):
        rendered(tmp_path, template)


NESTED = "".join(f"{{% for a{n} in page.label %}}" for n in range(12)) + "x" + "{% endfor %}" * 12
FANNED = (
    "{% macro m0() %}{% endmacro %}"
    + "".join(f"{{% macro m{n + 1}() %}}{{{{ m{n}() }}}}{{{{ m{n}() }}}}{{% endmacro %}}" for n in range(60))
    + "{{ m60() }}"
)
DOUBLED = "{% set s = 'xxxxxxxxxxxxxxxx' %}" + "{% set s %}{{ s }}{{ s }}{% endset %}" * 40
DOUBLED_BY_MACRO = "{% macro d(s) %}{{ s }}{{ s }}{% endmacro %}{% set s = 'xxxxxxxx' %}" + "{% set s = d(s) %}" * 40


@pytest.mark.parametrize("template", [NESTED, FANNED, DOUBLED, DOUBLED_BY_MACRO])
def test_what_would_run_on_for_ever_ends_with_its_place(tmp_path: Path, template: str) -> None:
    began = time.process_time()
    with pytest.raises(ThemeError, match=r"mine/templates/animal\.html:1: the page takes more than 6,000,000 steps"):
        rendered(tmp_path, template)
    assert time.process_time() - began < 60


@pytest.mark.parametrize(
    "template",
    [
        "{{ 'x' * 1000000000 }}", "{{ [0] * 1000000000 }}", "{{ 9 ** 999999999 }}", "{{ 9 ** 9 ** 9 }}",
        "{{ '%01000000000d' % 1 }}", "{{ '{:01000000000}'.format(1) }}", "{{ 'x'.center(1000000000) }}",
        "{{ 'x'.ljust(1000000000) }}", "{{ range(1000000000)|list }}", "{% for i in range(1000000000) %}{% endfor %}",
        "{{ 'x'|center(1000000000) }}", "{{ 'x'|indent(1000000000) }}", "{{ lipsum(100000) }}",
        "{{ page.name|batch(1)|list }}", "{{ 'ab'.join(page.name * 1000000) }}",
    ],
)  # fmt: skip
def test_no_template_fills_the_memory(tmp_path: Path, template: str) -> None:
    began, most = time.process_time(), resource.getrusage(resource.RUSAGE_SELF).ru_maxrss
    with pytest.raises(ThemeError, match=r"animal\.html"):
        rendered(tmp_path, template)
    assert time.process_time() - began < 10
    assert resource.getrusage(resource.RUSAGE_SELF).ru_maxrss - most < 200_000


def test_includes_are_steps_too(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(sandbox, "MOST_STEPS", 50)
    with pytest.raises(ThemeError, match="more than 50 steps"):
        rendered(tmp_path, "x" + "{% include 'start.html' %}" * 60)


def test_endless_recursion_is_told(tmp_path: Path) -> None:
    with pytest.raises(ThemeError, match=r"animal\.html:1: .*recursion"):
        rendered(tmp_path, "{% macro m() %}{{ m() }}{% endmacro %}{{ m() }}")


def test_each_page_has_its_own_allowance(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(sandbox, "MOST_STEPS", 200)
    for _ in range(20):
        assert rendered(tmp_path / str(_), "{% for field in page.label %}.{% endfor %}")


@pytest.mark.parametrize(
    ("template", "message"),
    [
        ("{{ page.hidden[0].headline|line }}", "a claim is printed whole"),
        ("{% for item in page.hidden[0].explanation %}{{ item|line }}{% endfor %}", "a claim is printed whole"),
        ("{{ page.hidden[0].headline[0].text }}", "a claim is printed whole"),
        ("{{ page.hidden[0].odds|icon_array }}", "a claim is printed whole"),
        ("{{ page.odds_method[0].text }}", "a sentence is printed whole"),
        ("{{ (page.odds_method|line)[0:9] }}", "may not take pieces"),
        ("{{ page.name[0] }}", "a text is printed whole"),
        ("{% for letter in page.hidden[0]|claim %}{{ letter }}{% endfor %}", "a text is printed whole"),
        ("{{ page.hidden[0]|claim|upper }}", "No filter named 'upper'"),
        ("{{ page.hidden[0]|claim|replace('may', 'will') }}", "No filter named 'replace'"),
        ("{% filter upper %}{{ page.hidden[0]|claim }}{% endfilter %}", "No filter named 'upper'"),
        ("{{ (page.hidden[0]|claim).replace('May', 'Will') }}", "may call its own macros"),
        ("{{ page.hidden[0]|claim ~ 'surely' }}", "may not put texts together"),
        ("{{ page.hidden[0]|claim(7) }}", "level 2, 3 or 4"),
    ],
)
def test_no_claim_is_taken_apart(tmp_path: Path, template: str, message: str) -> None:
    with pytest.raises(ThemeError, match=message):
        rendered(tmp_path, template)


def test_a_claim_and_a_sentence_are_printed_whole_and_escaped(tmp_path: Path) -> None:
    claim = ANIMAL.content.hidden[0]  # type: ignore[attr-defined] # an animal's page
    made = rendered(tmp_path, "{{ page.hidden[0]|claim }}{{ page.hidden[0].kind }}")
    assert made == draw_claim(claim) + claim.kind
    words = [span.text for line in (claim.headline, *claim.explanation, claim.basis) for span in line]
    assert all(text in unescape(made) for text in words)
    nasty = replace(claim, headline=(Span("<b>", 'x"y'),), odds=IconArray(3, "<i>", "&"))
    assert '<h3><a href="x&#34;y">&lt;b&gt;</a></h3>' in draw_claim(nasty)
    assert "<title>&lt;i&gt;</title>" in draw_claim(nasty)
    assert draw_line((Span("a < b"),)) == "a &lt; b"


@pytest.mark.parametrize(
    "template",
    [
        "{% set page.name = 'x' %}",
        "{% set page.name %}x{% endset %}",
        "{% set a, page.name = 'x', 'x' %}",
        "{% block a %}{% set page.name = 'x' %}{% endblock %}",
        "{% for page.name in page.label %}{% endfor %}",
        "{% for field in page.label %}{% set field.label = 'x' %}{% endfor %}",
        "{% with page.name = 'x' %}{% endwith %}",
        "{% macro page.name() %}{% endmacro %}",
        "{% import 'start.html' as page.name %}",
        "{{ page.__setattr__('name', 'x') }}",
        "{{ frame.labels.__dict__.update(skip='x') }}",
    ],
)
def test_a_template_alters_nothing_of_a_page(tmp_path: Path, template: str) -> None:
    before = repr(ANIMAL)
    with pytest.raises(ThemeError, match=r"animal\.html"):
        rendered(tmp_path, template)
    assert repr(ANIMAL) == before


@pytest.mark.parametrize(
    "template",
    [
        "{{ page.name }}",
        "{% block a %}{{ page.name }}{% endblock %}",
        "{% macro m(x) %}{{ x }}{% endmacro %}{{ m(page.name) }}",
        "{% block a %}{% macro m(x) %}{{ x }}{% endmacro %}{{ m(page.name) }}{% endblock %}",
        "{% macro m() %}{{ caller() }}{% endmacro %}{% call m() %}{{ page.name }}{% endcall %}",
        "{% block a %}{% set b %}{{ page.name }}{% endset %}{{ b }}{% endblock %}",
        "{% block a %}{% for x in page.label %}{% if loop.first %}{{ page.name }}{% endif %}{% endfor %}{% endblock %}",
        "{% for x in page.label %}{{ page.name if loop.first else '' }}{% endfor %}",
        "{% set b|say %}{{ page.name }}{% endset %}{{ b }}",
        "{% macro m() %}{% set b %}{{ page.name }}{% endset %}{{ b }}{% endmacro %}{% set c = m() %}{{ c }}",
        "{% if none %}{% block a %}{{ page.name }}{% endblock %}{% endif %}{{ self.a() }}",
        "{% macro m(x) %}{{ x }}{% endmacro %}{% for x in page.label %}{% if loop.first %}{{ m(page.name) }}{% endif %}"
        "{% endfor %}",
        "{{ '<b title=\"&\">\\'x' }}",
        "{% set escape = 'x' %}{{ page.name }}",
        "{% block a %}{% set escape = 'x' %}{{ page.name }}{% endblock %}",
    ],
)
def test_a_text_is_escaped_once_wherever_it_is_printed(tmp_path: Path, template: str) -> None:
    nasty = replace(ANIMAL, content=replace(ANIMAL.content, name='<b title="&">\'x'))  # type: ignore[type-var]
    assert rendered(tmp_path, template, nasty) == "&lt;b title=&#34;&amp;&#34;&gt;&#39;x"


@pytest.mark.parametrize("name", THEMES)
def test_a_list_of_three_thousand_animals_has_steps_enough(name: str) -> None:
    page = PAGES["collection.html"]
    group = next(group for group in page.content.groups if group.entries)  # type: ignore[attr-defined] # a collection
    many = replace(group, entries=tuple(group.entries[n % len(group.entries)] for n in range(3_000)))
    made = render_page(replace(page, content=replace(page.content, groups=(many,))), find_theme(name))  # type: ignore[type-var]
    assert made.count(b"<article") + made.count(b"<li") >= 3_000


@pytest.mark.parametrize("name", THEMES)
def test_the_carried_themes_print_every_claim_whole(name: str) -> None:
    theme = find_theme(name)
    for page in PAGES.values():
        if page.template in ("animal.html", "paper.html"):
            html = render_page(page, theme).decode()
            for claim in (*page.content.shows, *page.content.hidden, *page.content.ruled_out):  # type: ignore[attr-defined]
                assert draw_claim(claim) in html, page.address
