"""A theme that anybody wrote ends with a message, within two seconds and 200 MB, and its pages have the policy."""

import multiprocessing
import re
import resource
import time
from collections.abc import Callable
from multiprocessing.connection import Connection
from pathlib import Path

import pytest
from helpers.from_text import write_files
from helpers.pace import pace
from helpers.pages import ReadPage, theme_of
from helpers.small_site import small_material, whole_site

from sitegen.findings import ThemeError
from sitegen.render.catalogues import catalogue_of
from sitegen.render.pages import POLICY, render_page, render_part
from sitegen.render.themes import find_theme, share_style

MOST_S, MOST_MB = 2, 150
"""What a page may take; a process without a page has less than 50 MB."""

PAGES = {page.address: page for page in whole_site(small_material())}
ANIMAL = next(page for page in PAGES.values() if page.template == "animal.html" and page.content.hidden)
SNAKE = "\N{SNAKE}"

LOOPS, ENDS = "{% for a in page.label %}" * 6, "{% endfor %}" * 6
TEXT = "{% set s = '" + SNAKE + "xxxxxxxxxxxxxxx' %}"
DOUBLE = "{% set s %}{{ s }}{{ s }}{% endset %}"
ON_AND_ON = "more than 6,000,000 steps"


def fanned(first: str, each: str) -> str:
    return first + "".join(each.format(now=n + 1, before=n) for n in range(60))


BOMBS = {
    "x ~ x": ("{% set x = 'xx' %}" + "{% set x = x ~ x %}" * 40, "may not put texts together"),
    "x ~ x in loops": (LOOPS + "{% set x = page.name ~ page.name %}" + ENDS, "may not put texts together"),
    "doubled in blocks": (TEXT + DOUBLE * 60, ON_AND_ON),
    "doubled by macros": (
        "{% macro d(s) %}{{ s }}{{ s }}{% endmacro %}" + TEXT + "{% set s = d(s) %}" * 60, ON_AND_ON,
    ),
    "doubled, then printed again and again": (TEXT + DOUBLE * 18 + "{{ s }}" * 400, ON_AND_ON),
    "nested lists": ("{% set a = [page.name] %}" + "{% set a = [a, a] %}" * 40 + "{{ a }}", "a list in a template"),
    "nested tuples": ("{% set a = (page.name, 1) %}" + "{% set a = (a, a) %}" * 40, "a list in a template"),
    "nested groups": ("{% set a = {'a': 1} %}" + "{% set a = {'a': a, 'b': a} %}" * 40, "no groups of values"),
    "what a macro was given": ("{% macro m() %}{{ varargs }}{% endmacro %}{{ m(1, 2) }}", "varargs is not for themes"),
    "a list spread out": ("{% macro m(a) %}{{ a }}{% endmacro %}{{ m(*page.label) }}", "names each thing"),
    "joined": ("{{ page.label|join(page.name) }}", "No filter named 'join'"),
    "much text in loops": (LOOPS + "y" * 25_000 + ENDS, ON_AND_ON),
    "many prints in loops": (LOOPS + "{{ page.name }}" * 1_800 + ENDS, ON_AND_ON),
    "many questions in loops": (LOOPS + "{% if page.name %}.{% endif %}" * 900 + ENDS, ON_AND_ON),
    "a large block in another template's loops": (
        "{% extends 'looped.html' %}{% block b %}" + "{{ page.name }}" * 1_800 + "{% endblock %}", ON_AND_ON,
    ),
    "a large template in loops": (LOOPS + "{% include 'large.html' %}" + ENDS, ON_AND_ON),
    "macros that call two": (
        fanned(
            "{% macro m0() %}{% endmacro %}",
            "{{% macro m{now}() %}}{{{{ m{before}() }}}}{{{{ m{before}() }}}}{{% endmacro %}}",
        ) + "{{ m60() }}", ON_AND_ON,
    ),
    "blocks that call two": (
        fanned(
            "{% block b0 %}x{% endblock %}",
            "{{% block b{now} %}}{{{{ self.b{before}() }}}}{{{{ self.b{before}() }}}}{{% endblock %}}",
        ), ON_AND_ON,
    ),
    "prose in loops": (LOOPS * 2 + "{{ page.about|prose }}" + ENDS * 2, ON_AND_ON),
    "drawings in loops": (LOOPS * 2 + "{{ page.hidden[0]|claim }}" + ENDS * 2, ON_AND_ON),
    "long texts compared in loops": (
        TEXT + DOUBLE * 15 + "{% set t %}{{ s }}{% endset %}" + LOOPS + "{% if s == t %}{% endif %}" + ENDS, ON_AND_ON,
    ),
    "models compared": (LOOPS + "{% if page == page %}{% endif %}" + ENDS, "compares texts and numbers"),
    "a template that includes itself": ("{% include 'animal.html' %}", "recursion"),
    "a template that extends itself": ("{% extends 'animal.html' %}", "recursion"),
    "deep brackets": ("{{ " + "(" * 3_000 + "1" + ")" * 3_000 + " }}", "recursion"),
    "deep lists": ("{{ " + "[" * 3_000 + "]" * 3_000 + " }}", "recursion"),
    "deep nots": ("{{ " + "not " * 7_000 + "1 }}", "recursion"),
    "deep attributes": ("{{ page" + ".a" * 14_000 + " }}", "recursion"),
    "deep questions": ("{% if page %}" * 1_000 + "{% endif %}" * 1_000, "recursion"),
    "deep loops": ("{% for a in page.label %}" * 90 + "{% endfor %}" * 90, "statically nested|indentation"),
    "a long number": ("{{ " + "9" * 25_000 + " }}", "integer"),
    "an allowance given back": ("{% set a = (0-9)|toll %}", "No filter named 'toll'"),
    "loops that are paid back": ("{% set a = page.label|counted(-9) %}", "No filter named 'counted'"),
    "as dense as it may be": ("{{1}}" * 5_900 + "{{ page }}", "no text but a part of the page's model"),
    "half a letter": (r"{{ '\ud800' }}", "surrogates not allowed"),
}  # fmt: skip


def _measured(work: Callable[[], object], told: Connection) -> None:
    before, began = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss, time.process_time()
    try:
        message = f"not refused: {work()}"
    except ThemeError as error:
        message = str(error)
    grown = (resource.getrusage(resource.RUSAGE_SELF).ru_maxrss - before) / 1_000
    told.send((message, time.process_time() - began, grown))


def refused(work: Callable[[], object]) -> str:
    """What is told, within the bounds; in a process of its own, so that its peak of memory is known."""
    here, there = multiprocessing.Pipe()
    process = multiprocessing.get_context("fork").Process(target=_measured, args=(work, there))
    process.start()
    there.close()
    try:
        message, seconds, megabytes = here.recv()
    finally:
        process.join(60)
    assert seconds < MOST_S or seconds < MOST_S * pace()
    assert megabytes < MOST_MB
    assert isinstance(message, str)
    return message


@pytest.mark.parametrize("bomb", BOMBS)
def test_a_bomb_in_a_template_ends_with_its_place(tmp_path: Path, bomb: str) -> None:
    template, told = BOMBS[bomb]
    looped = LOOPS + "{% block b scoped %}{% endblock %}" + ENDS
    folder = theme_of(tmp_path, "x", animal=template, large="x" * 25_000, looped=looped)
    message = refused(lambda: render_page(ANIMAL, find_theme("mine", folder)))
    assert message.startswith("mine/templates/")
    assert any(each in message for each in told.split("|")), message
    assert ANIMAL.record in message


ALIASES = "name: &a [x, x, x, x, x, x, x, x, x]\n" + "".join(
    f"{chr(98 + n)}: &{chr(98 + n)} [{', '.join([f'*{chr(97 + n)}'] * 9)}]\n" for n in range(20)
)


@pytest.mark.parametrize("file", ["theme.yaml", "share.yaml"])
@pytest.mark.parametrize(
    ("text", "told"),
    [
        (ALIASES, ":1:7: .*marks a part of the file"),
        ("name: !!python/object/apply:os.system [id]\n", ":1:7: .*names a data type"),
        ("name: " + "[" * 9_000, ":1:.*cannot be read"),
        ("name: " + "{a: " * 4_000, ":1:.*nested more than 24"),
        ("name: " + "x" * 30_000, "30,0.. bytes, more than is read"),
        ("name: a\nname: b\n", ":2:1: .*written twice"),
        ("name: \u202eabc\n", ":1:7: .*cannot be seen"),
    ],
)
def test_the_yaml_of_a_theme_is_read_as_records_are(tmp_path: Path, file: str, text: str, told: str) -> None:
    write_files(tmp_path, f"=== mine/theme.yaml\nversion: 3\nextends: specimen-sheet\n=== mine/{file}\n{text}")
    message = refused(lambda: share_style(find_theme("mine", tmp_path)))
    assert message.startswith(f"mine/{file}")
    assert re.search(told, message), message


HEADER = 'msgid ""\nmsgstr ""\n"Content-Type: text/plain; charset=UTF-8\\n"\n'


@pytest.mark.parametrize(
    ("catalogue", "told"),
    [  # the rule of plurals is the language's own; a theme's is not looked at
        (HEADER + '"Plural-Forms: nplurals=2; plural=' + "(" * 1_500 + "n" + ")" * 1_500 + ';\\n"', "not refused"),
        (HEADER + '"Plural-Forms: nplurals=2; plural=__import__(1);\\n"', "not refused"),
        (HEADER + "".join(f'\nmsgid "w{n}"\nmsgstr "v"\n' for n in range(90_000)), "mine/locale/de.po: this file has"),
    ],
    ids=["deep rule", "code", "large"],
)
def test_a_bomb_in_a_catalogue_of_a_theme_is_told_or_has_no_effect(tmp_path: Path, catalogue: str, told: str) -> None:
    write_files(tmp_path, "=== mine/theme.yaml\nversion: 3\nextends: specimen-sheet\n")
    (tmp_path / "mine/locale").mkdir()
    (tmp_path / "mine/locale/de.po").write_text(catalogue, "utf-8")
    assert refused(lambda: catalogue_of("de", find_theme("mine", tmp_path).words)).startswith(told)


@pytest.mark.parametrize(
    ("files", "told"),
    [
        ({"assets/a.bin": 5_000_000}, "assets/a.bin: this file has 5,000,000 bytes"),
        ({f"assets/{n}.bin": 3_900_000 for n in range(9)}, "assets: its files are larger together"),
        ({f"assets/{n}.txt": 1 for n in range(600)}, "assets: more than 500 files"),
        ({"assets/" + "a/" * 600 + "x": 1}, "assets: more than 500 files"),
        ({"templates/x.html": 31_000}, "templates/x.html: this file has 31,000 bytes"),
        ({f"templates/{n}.html": 29_000 for n in range(9)}, "templates: its files are larger together"),
    ],
)
def test_more_than_a_theme_needs_is_refused_unread(tmp_path: Path, files: dict[str, int], told: str) -> None:
    write_files(tmp_path, "=== mine/theme.yaml\nversion: 3\nextends: specimen-sheet\n")
    for name, size in files.items():
        (tmp_path / "mine" / name).parent.mkdir(parents=True, exist_ok=True)
        (tmp_path / "mine" / name).write_bytes(b"x" * size)
    assert refused(lambda: find_theme("mine", tmp_path)).startswith(f"mine/{told}")


WHOLE = "<!doctype html>\n<html lang='en'>\n<head>{}<title>x</title></head><body>{}</body></html>"


def test_a_theme_that_leaves_the_policy_out_has_it_first_of_all(tmp_path: Path) -> None:
    made = render_page(ANIMAL, find_theme("mine", theme_of(tmp_path, "x", animal=WHOLE))).decode()
    head = [(tag, facts) for tag, facts in ReadPage(made).elements if tag not in ("html", "head")]
    assert head[:2] == [
        ("meta", {"http-equiv": "Content-Security-Policy", "content": POLICY}),
        ("meta", {"name": "referrer", "content": "no-referrer"}),
    ]


@pytest.mark.parametrize(
    ("template", "told"),
    [
        ("<script src='x.js'></script>" + WHOLE, "begins with <!doctype html>"),
        ("<!-- <head> -->" + WHOLE, "begins with <!doctype html>"),
        (WHOLE.replace("<head>", "<script src='x.js'></script><head>"), "begins with <!doctype html>"),
        (WHOLE.replace("<html lang='en'>", "<html lang='>' ><script>//"), "begins with <!doctype html>"),
        (WHOLE.replace("<head>", "<header>"), "begins with <!doctype html>"),
        ("x", "begins with <!doctype html>"),
        (
            WHOLE.replace("{}", '<meta http-equiv="Content-Security-Policy" content="default-src *">', 1),
            "not for themes",
        ),
        (WHOLE.replace("{}", "<META\nHTTP-EQUIV=refresh content='0;url=https://away.example'>", 1), "not for themes"),
        (WHOLE.replace("{}", "<meta content='>' http-equiv='refresh'>", 1), "not for themes"),
        (WHOLE.replace("<body>", "<body><meta http-equiv=refresh content=0>"), "not for themes"),
        (WHOLE.replace("{}", "<meta name = 'referrer' content='unsafe-url'>", 1), "not for themes"),
        (WHOLE.replace("{}", "<meta name='refer&#114;er' content='unsafe-url'>", 1), "not for themes"),
    ],
)
def test_a_theme_cannot_get_before_the_policy_or_write_its_own(tmp_path: Path, template: str, told: str) -> None:
    with pytest.raises(ThemeError, match=told) as caught:
        render_page(ANIMAL, find_theme("mine", theme_of(tmp_path, "x", animal=template)))
    assert str(caught.value).startswith("mine/templates/animal.html")


@pytest.mark.parametrize(
    ("template", "told"),
    [
        ("\n{{ page }}", "AnimalPage is no text"),
        ("\n{{ frame }}", "Frame is no text"),
        ("\n{{ page.label }}", "a list cannot be printed; loop over it"),
        ("\n{{ page.hidden[0] }}", "ClaimView is no text"),
        ("\n{{ page.odds_method }}", "printed with the filter line"),
        ("\n{% macro m() %}{% endmacro %}{{ m }}", "Macro is no text"),
        ("\n{{ page.name == 'x' }}", "no text to print here"),
        ("\n{% autoescape false %}{{ page.name }}{% endautoescape %}", "always escaped"),
        ("\n{% autoescape true %}{{ page.name }}{% endautoescape %}", "always escaped"),
        ("\n{{ page.name|safe }}", "No filter named 'safe'"),
        ("\n{{ Markup(page.name) }}", "may call its own macros"),
        ("\n{{ page.name.__html__() }}", "may call its own macros"),
        ("\n{% if page is sameas page %}{% endif %}", "No test named 'sameas'"),
    ],
)
def test_what_is_no_field_and_no_way_around_escaping_is_told_with_file_and_line(
    tmp_path: Path, template: str, told: str
) -> None:
    with pytest.raises(ThemeError, match=told) as caught:
        render_part(ANIMAL, find_theme("mine", theme_of(tmp_path, "x", animal=template)))
    assert str(caught.value).startswith("mine/templates/animal.html:2: ")


@pytest.mark.parametrize(
    "template",
    [
        "{% if page.name == 'x' %}a{% else %}b{% endif %}",
        "{% if page.name in ['x', 'y'] or page.name not in ('x',) %}b{% endif %}",
        "{% for word in ['b'] %}{{ word }}{% endfor %}",
        "{% if page.nothing is not defined %}b{% endif %}",
        "{% for a in page.label %}{% if loop.index < 2 %}b{% endif %}{% endfor %}",
    ],
)
def test_what_a_theme_may_ask_it_may_still_ask(tmp_path: Path, template: str) -> None:
    assert render_part(ANIMAL, find_theme("mine", theme_of(tmp_path, "x", animal=template))) == "b"
