"""Text in HTML stands as the template library's own ``escape`` writes it."""

from hypothesis import given
from hypothesis import strategies as st
from markupsafe import Markup, escape

from sitegen.render.html import escaped, printed, ready

TEXTS = st.text(st.sampled_from("abé&<>\"'\n;#"), max_size=12) | st.text(max_size=12)


@given(TEXTS)
def test_a_text_is_escaped_as_the_library_does(text: str) -> None:
    assert escaped(text) == str(escape(text))
    assert printed(text) == str(escape(text))


@given(TEXTS)
def test_what_is_ready_is_printed_as_it_is(html: str) -> None:
    assert type(ready(html)) is Markup
    assert printed(ready(html)) == html


class _Named(str):
    __slots__ = ()


@given(st.integers() | st.none() | st.booleans() | TEXTS.map(_Named))
def test_everything_else_is_left_to_the_library(value: object) -> None:
    assert printed(value) == str(escape(value))
