"""What a template may do: loop, choose, print, and call its own macros; within bounds.

It reaches no file, no interpreter and no clock. Sentences and claims come whole and are printed whole, so that no
theme can alter what is claimed. Every page has an allowance of steps, counted the same on every machine, so that a
template that would run on and on, or fill the memory, ends with a message instead. Each part of a template that may run
more than once (a loop's body, a macro, a block, a template) is priced when it is compiled: a step for each node of it.
"""

from collections.abc import Callable, Iterable, Iterator, Mapping, Sized
from contextlib import contextmanager
from contextvars import ContextVar
from dataclasses import fields, is_dataclass
from functools import cache, wraps
from typing import Any

from jinja2 import (
    FunctionLoader,
    StrictUndefined,
    TemplateSyntaxError,
    Undefined,
    nodes,
    pass_context,
)
from jinja2.exceptions import SecurityError
from jinja2.runtime import BlockReference, Context, LoopContext, Macro
from jinja2.sandbox import SandboxedEnvironment
from markupsafe import Markup

from sitegen.render.drawings import escaped
from sitegen.site.parts import ClaimView, Span

MOST_STEPS = 6_000_000
"""Steps in one page: less than two seconds of work, and at most 24 million letters. A list of 3,000 animals takes 4
million."""
_STEPS_A_CALL = 10
_STEPS_A_PRINT = 2
_STEPS_A_FILTER = {"qr": 15_000, "prose": 1_000}
"""Filters that take much longer than others; a step is about 0.2 microseconds."""
_STEPS_A_LETTER_READ = 2
_LETTERS_A_STEP = 4
_WHOLE = {
    ClaimView: (("kind", "stairs"), "a claim is printed whole, with the filter claim"),
    Span: ((), "a sentence is printed whole, with the filter line"),
}
"""Parts that are printed by the program: what a template may still ask of each, and what to say to one that asks more.

``kind`` is a word for the style sheet, no part of the claim; ``stairs`` go with it and may stand elsewhere."""
_REFUSED: Mapping[type[nodes.Node], str] = {
    nodes.Concat: 'a template may not put texts together ("~"); print them one after the other',
    nodes.Slice: "a template may not take pieces of lists or texts; it prints them whole",
    nodes.Dict: "a template makes no groups of values; it prints those of the page",
    nodes.EvalContextModifier: "what is printed is always escaped; {% autoescape %} is not for themes",
}
_PRICED = (nodes.For, nodes.Macro, nodes.CallBlock, nodes.Block)
"""Parts with a price of their own."""
_KEPT_FILTERS = ("first", "last", "length")
_KEPT_TESTS = ("defined", "undefined", "none")


class _Allowance:
    """How many steps are left for a page."""

    __slots__ = ("left",)

    def __init__(self) -> None:
        self.left = MOST_STEPS


_allowances: ContextVar[_Allowance | None] = ContextVar("allowance", default=None)


@contextmanager
def allowance() -> Iterator[None]:
    """Within it templates may take :data:`MOST_STEPS` together; more raises ``SecurityError``."""
    token = _allowances.set(_Allowance())
    try:
        yield
    finally:
        _allowances.reset(token)


def _spend(steps: int) -> None:
    own = _allowances.get()
    if own is None:
        return
    own.left -= steps
    if own.left < 0:
        raise SecurityError(f"the page takes more than {MOST_STEPS:,} steps; a loop or a macro would run on and on")


@pass_context  # so that nothing is worked out while the template is compiled
def _counted(_context: Context, items: object, price: int = 1) -> object:
    """What a loop runs over, its turns taken from the allowance; ``price`` is that of one turn."""
    if isinstance(items, str):
        raise SecurityError("a text is printed whole; a loop over its letters is none of a template's business")
    if not isinstance(items, Sized):
        raise SecurityError("a loop runs over a list of the page, and over nothing else")
    _spend(len(items) * price + 1)
    return items


@pass_context
def _compared(_context: Context, value: object) -> object:
    """What is compared with something: a text or a number, not lists or models, which may hold any number of them."""
    if isinstance(value, str):
        _spend(len(value) // _LETTERS_A_STEP)
    elif not isinstance(value, int | None | Undefined):
        raise SecurityError("a template compares texts and numbers, and nothing else")
    return value


@pass_context  # as above
def _printed(_context: Context, value: Any) -> str:
    """What a template prints, escaped, its length taken from the allowance.

    The library's own escaping is off, since it would go over what is printed once more: everything that is not marked
    as ready HTML is escaped here, and what a template puts together is marked (:func:`_ready`).
    """
    kind = type(value)
    if kind is Markup:  # HTML that is ready: of a macro, a block, or a filter of the program
        text: Any = value
    elif isinstance(value, str):
        text = escaped(value)
    elif kind is int or isinstance(value, Undefined):
        text = str(value)  # of something undefined: raises what is undefined
    else:
        raise SecurityError(_not_printable(value))
    letters = len(text) if text.isascii() else 2 * len(text)  # others take more bytes
    _spend(letters // _LETTERS_A_STEP + _STEPS_A_PRINT)
    return text  # type: ignore[no-any-return] # a text in each case


def _ready(html: str) -> Markup:
    """What a template put together, all of which was escaped when it was printed."""
    return Markup(html)  # noqa: S704 - see above


def _priced(made: Callable[..., object], steps: int) -> Callable[..., object]:
    """A filter of the program that takes its price: so many steps, and those for the letters it reads and gives."""

    @wraps(made)
    def filtered(*given: object, **named: object) -> object:
        price = steps
        for each in given:
            text = each if isinstance(each, str) else getattr(each, "text", None)
            if isinstance(text, str):
                price += _STEPS_A_LETTER_READ * len(text)
        _spend(price)
        found = made(*given, **named)
        if isinstance(found, str):
            _spend(len(found) // _LETTERS_A_STEP)
        return found

    return filtered


def _not_printable(value: object) -> str:
    if value is None or isinstance(value, bool):
        return "there is no text to print here; ask with {% if %} first"
    if isinstance(value, tuple | list):
        return "a list cannot be printed; loop over it (a sentence is printed with the filter line)"
    return f"{type(value).__name__} is no text but a part of the page's model; print one of its fields"


class Sandbox(SandboxedEnvironment):
    """A sandbox in which a template can loop, choose and print, and call nothing but its own macros and blocks."""

    intercepted_binops = frozenset(("+", "-", "*", "/", "//", "%", "**"))

    def call(self, context: Context, called: object, /, *args: object, **named: object) -> object:
        """Calls a macro or a block of the theme.

        Raises:
            SecurityError: Anything else is called, or the page's allowance is spent.
        """
        if isinstance(called, Macro):
            _spend(_STEPS_A_CALL)
            return _ready(super().call(context, called, *args, **named))
        if isinstance(called, BlockReference):
            _spend(10 * _STEPS_A_CALL)  # it is looked up by name each time
            return _ready(super().call(context, called, *args, **named))
        if isinstance(getattr(called, "__self__", None), LoopContext):
            _spend(10 * _STEPS_A_CALL)
            return super().call(context, called, *args, **named)
        raise SecurityError("a template may call its own macros and blocks, and nothing else")

    def call_binop(self, context: Context, operator: str, left: object, right: object) -> object:
        """Computes nothing.

        Raises:
            SecurityError: Always; numbers come ready to print.
        """
        raise SecurityError(f'a template may not compute ("{operator}"); what it prints comes ready made')

    def getattr(self, obj: Any, attribute: str) -> Any:
        """A field of a page model at once, a thing that is done 170 times a page; else what the library finds safe."""
        model: Any = type(obj)
        if attribute in _readable(model):
            return getattr(obj, attribute)
        return super().getattr(obj, attribute)

    def is_safe_attribute(self, obj: object, attr: str, value: object) -> bool:
        """True for what the page holds; never the insides of a sentence or of a claim."""
        sealed = _WHOLE.get(type(obj))
        return attr in sealed[0] if sealed is not None else super().is_safe_attribute(obj, attr, value)

    def unsafe_undefined(self, obj: object, attribute: str) -> Undefined:
        """What stands for an attribute that a template may not have: any use of it says why."""
        sealed = _WHOLE.get(type(obj))
        if sealed is None:
            return super().unsafe_undefined(obj, attribute)
        return self.undefined(f'"{attribute}" is not for templates: {sealed[1]}', name=attribute, exc=SecurityError)

    def getitem(self, obj: object, argument: object) -> object:
        """An item of a list or a mapping.

        Raises:
            SecurityError: A piece of a text is asked for.
        """
        if isinstance(obj, str) and not isinstance(argument, str):
            raise SecurityError("a text is printed whole, and no piece of it")
        return super().getitem(obj, argument)

    def compile(self, source: Any, name: str | None = None, filename: str | None = None, *args: Any, **how: Any) -> Any:
        """The code of a template, priced.

        Raises:
            TemplateSyntaxError: It does what a template may not do.
        """
        if isinstance(source, str):
            source = self.parse(source, name, filename)
            for node in list(source.find_all(nodes.Node)):
                if why := _why_refused(node):
                    raise TemplateSyntaxError(why, node.lineno, name, filename)
                _price(node)
            _price(source)
        return super().compile(source, name, filename, *args, **how)


@cache
def _readable(model: type) -> frozenset[str]:
    """The fields of a page model that a template may read; none for what is no page model."""
    if not is_dataclass(model):
        return frozenset()
    sealed = _WHOLE.get(model)
    return frozenset(
        each.name
        for each in fields(model)
        if (each.name in sealed[0] if sealed is not None else not each.name.startswith("_"))
    )


def _why_refused(node: nodes.Node) -> str:
    for kind, why in _REFUSED.items():
        if isinstance(node, kind):
            return why
    if isinstance(node, nodes.List | nodes.Tuple) and not (
        getattr(node, "ctx", "load") == "store" or all(isinstance(item, nodes.Const) for item in node.items)
    ):
        return "a list in a template holds words and numbers, and nothing else"
    if isinstance(node, nodes.Name) and node.name in ("varargs", "kwargs"):
        return f"{node.name} is not for themes; a macro names what it takes"
    if isinstance(node, nodes.Call) and (node.dyn_args or node.dyn_kwargs):
        return "a call names each thing that it gives"
    return ""


def _price(node: nodes.Node) -> None:
    """Have what runs more than once, or grows, taken from the allowance; every other node stays as it is."""
    if isinstance(node, nodes.For):
        node.iter = _filtered(node.iter, " counted", nodes.Const(_price_of(node.body) + 1))
    elif isinstance(node, nodes.Macro | nodes.CallBlock | nodes.Block | nodes.Template):
        node.body.insert(0, nodes.ExprStmt(_filtered(nodes.Const(_price_of(node.body)), " toll"), lineno=node.lineno))
    elif isinstance(node, nodes.AssignBlock):
        node.filter = nodes.Filter(node.filter, " ready", [], [], None, None, lineno=node.lineno)
    elif isinstance(node, nodes.Compare):
        node.expr = _filtered(node.expr, " compared")
        for operand in node.ops:
            operand.expr = _filtered(operand.expr, " counted" if operand.op in ("in", "notin") else " compared")


def _price_of(body: Iterable[nodes.Node]) -> int:
    """A step for each node, and for every few letters; without the bodies that have prices of their own."""
    price = 0
    for node in body:
        letters = len(node.data) if isinstance(node, nodes.TemplateData) else 0
        price += 1 + letters // _LETTERS_A_STEP
        price += _price_of(node.iter_child_nodes(exclude=("body",) if isinstance(node, _PRICED) else None))
    return price


def _filtered(node: nodes.Node, name: str, *given: nodes.Expr) -> nodes.Filter:
    found = nodes.Filter(node, name, list(given), [], None, None)
    found.set_lineno(node.lineno)
    return found


_OWN: Mapping[str, Callable[..., object]] = {
    " counted": _counted, " compared": _compared, " toll": _spend, " ready": _ready
}  # fmt: skip
"""Filters that are put into templates when these are compiled. No template can name them, and so give the allowance
back: their names begin with a blank."""


def sandbox(
    load: Callable[[str], tuple[str, str, Callable[[], bool]] | None], filters: Mapping[str, Callable[..., object]]
) -> Sandbox:
    """The sandbox: no file, no code, every name must exist, everything is escaped.

    ``load`` gives for a template's name its text, the place it stands at, and whether that is still so. Of the template
    language's own filters only a few stay, none of which alters a text.
    """
    environment = Sandbox(
        loader=FunctionLoader(load), autoescape=False, undefined=StrictUndefined, finalize=_printed,
        trim_blocks=True, lstrip_blocks=True, keep_trailing_newline=True, auto_reload=False, cache_size=-1,
        optimized=False,
    )  # fmt: skip
    kept = {name: environment.filters[name] for name in _KEPT_FILTERS}
    priced = {name: _priced(filter, _STEPS_A_FILTER.get(name, _STEPS_A_CALL)) for name, filter in filters.items()}
    environment.filters = {**kept, **priced, **_OWN}
    environment.tests = {name: environment.tests[name] for name in _KEPT_TESTS}
    environment.globals.clear()
    return environment
