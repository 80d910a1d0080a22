"""What a template may do: loop, choose, print, and call its own macros; within bounds.

It reaches no file, no interpreter and no clock. Sentences and claims come whole and are printed whole, so that no
theme can alter what is claimed. Every page has an allowance of steps, counted the same on every machine, so that a
template that would run on and on ends with a message instead.
"""

from collections.abc import Callable, Iterator, Mapping, Sized
from contextlib import contextmanager
from contextvars import ContextVar
from typing import Any

from jinja2 import (
    BytecodeCache,
    FunctionLoader,
    StrictUndefined,
    Template,
    TemplateSyntaxError,
    Undefined,
    nodes,
    pass_context,
)
from jinja2.bccache import Bucket
from jinja2.compiler import CodeGenerator
from jinja2.exceptions import SecurityError
from jinja2.runtime import BlockReference, Context, LoopContext, Macro
from jinja2.sandbox import ImmutableSandboxedEnvironment

from sitegen.pages.parts import ClaimView, Span
from sitegen.rendering.html import printed

MOST_STEPS = 5_000_000
"""Steps in one page. A turn of a loop is one; a call of a macro ten, as it takes about ten times as long; 64 letters
that a macro gives are one more. A list of 10,000 animals takes about a million."""
_STEPS_A_CALL = 10
_LETTERS_A_STEP = 64
_WHOLE = {
    ClaimView: ("kind", "a claim is printed whole, with the filter claim"),
    Span: ("", "a sentence is printed whole, with the filter line"),
}
"""Parts that are printed by the program: what a template may still ask of each, and what to say to one that asks more.

``kind`` is a word for the style sheet, no part of the claim."""
_LOOKED_AT = (nodes.Concat, nodes.Slice, nodes.For, nodes.AssignBlock, nodes.FilterBlock)
_KEPT_FILTERS = ("first", "last", "length")


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
def _counted(_context: Context, items: object) -> object:
    """What a loop runs over, its turns taken from the allowance."""
    if type(items) is tuple:
        _spend(len(items) + 1)
        return items
    if isinstance(items, str):
        raise SecurityError("a text is printed whole; a loop over its letters is none of a template's business")
    if not isinstance(items, Sized):
        raise SecurityError("a loop runs over a list of the page, and over nothing else")
    _spend(len(items) + 1)
    return items


@pass_context
def _weighed(_context: Context, text: str) -> str:
    """What was put together in a template, its length taken from the allowance."""
    _spend(len(text) // _LETTERS_A_STEP + 1)
    return text


class Compiled(BytecodeCache):
    """Templates as code. It stays in memory: code from a file could be anybody's, and would run."""

    def __init__(self) -> None:
        self.codes: dict[str, bytes] = {}

    def load_bytecode(self, bucket: Bucket) -> None:
        """Fill in the code of a template, where it is known; the library sees that it is of this very text."""
        if code := self.codes.get(bucket.key):
            bucket.bytecode_from_string(code)

    def dump_bytecode(self, bucket: Bucket) -> None:
        """Take over the code of a template."""
        self.codes[bucket.key] = bucket.bytecode_to_string()


class _Writer(CodeGenerator):
    """Writes a template as code: what it prints is escaped by :func:`printed`, in a third of the time."""

    def write_commons(self) -> None:
        """What every block begins with; ``escape`` is what the code calls on all that it prints."""
        super().write_commons()
        self.writeline("escape = environment.printed")


class Sandbox(ImmutableSandboxedEnvironment):
    """A sandbox in which a template can loop, choose and print, and call nothing but its own macros and blocks."""

    code_generator_class = _Writer
    intercepted_binops = frozenset(("+", "-", "*", "/", "//", "%", "**"))
    printed = staticmethod(printed)

    def __init__(self, *args: Any, **named: Any) -> None:
        """As for any environment of the library."""
        super().__init__(*args, **named)
        self._safe: dict[tuple[type, str], bool] = {}
        self._open: dict[type, set[str]] = {}  # by type, what of it was found safe; nothing of texts
        self._found: dict[str, Template] = {}
        self.bytecode_cache = self.compiled = Compiled()

    def call(self, context: Context, called: object, /, *args: object, **named: object) -> object:
        """Calls a macro or a block of the theme.

        Raises:
            SecurityError: Anything else is called, or the page's allowance is spent.
        """
        if type(called) is Macro:  # without the questions that the library asks of whatever can be called
            _spend(_STEPS_A_CALL)
            named.pop("_block_vars", None)
            named.pop("_loop_vars", None)
            given: object = called(context.eval_ctx, *args, **named)
        elif isinstance(called, BlockReference) or isinstance(getattr(called, "__self__", None), LoopContext):
            _spend(_STEPS_A_CALL)
            given = super().call(context, called, *args, **named)
        else:
            raise SecurityError("a template may call its own macros and blocks, and nothing else")
        if isinstance(given, str):
            _spend(len(given) // _LETTERS_A_STEP)
        return given

    def call_binop(self, context: Context, operator: str, left: object, right: object) -> object:
        """Computes nothing.

        Raises:
            SecurityError: Always; numbers come ready to print.
        """
        raise SecurityError(f'a template may not compute ("{operator}"); what it prints comes ready made')

    def getattr(self, obj: Any, attribute: str) -> Any:
        """A field of a page model; at once where it was found safe before."""
        if attribute in self._open.get(type(obj), ()):
            try:
                return getattr(obj, attribute)
            except AttributeError:
                pass
        return super().getattr(obj, attribute)

    def is_safe_attribute(self, obj: object, attr: str, value: object) -> bool:
        """True for what the page holds; never the insides of a sentence or of a claim.

        The answer hangs on the type and the name alone, so it is found once for each.
        """
        key = type(obj), attr
        safe = self._safe.get(key)
        if safe is None:
            sealed = _WHOLE.get(type(obj))
            safe = (sealed is None or attr == sealed[0]) and super().is_safe_attribute(obj, attr, value)
            self._safe[key] = safe
            if safe and not isinstance(obj, str):
                self._open.setdefault(type(obj), set()).add(attr)
        return safe

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

    def get_template(
        self, name: str | Template, parent: str | None = None, globals: Mapping[str, object] | None = None
    ) -> Template:
        """A template by name; each use of one is a step."""
        _spend(1)
        found = self._found.get(name) if isinstance(name, str) and not globals else None
        if found is None:
            found = super().get_template(name, parent, dict(globals) if globals else None)
            if isinstance(name, str) and not globals:
                self._found[name] = found
        return found

    def _parse(self, source: str, name: str | None, filename: str | None) -> nodes.Template:
        """The template with its loops counted and its texts weighed.

        Raises:
            TemplateSyntaxError: It puts texts together with ``~``, or takes a piece of a list or a text.
        """
        tree = super()._parse(source, name, filename)
        for node in list(tree.find_all(_LOOKED_AT)):
            if isinstance(node, nodes.Concat):
                message = 'a template may not put texts together ("~"); print them one after the other'
                raise TemplateSyntaxError(message, node.lineno, name, filename)
            if isinstance(node, nodes.Slice):
                message = "a template may not take pieces of lists or texts; it prints them whole"
                raise TemplateSyntaxError(message, node.lineno, name, filename)
            if isinstance(node, nodes.For):
                node.iter = _filtered(node.iter, "counted")
            elif isinstance(node, nodes.AssignBlock | nodes.FilterBlock):
                node.filter = _filtered(node.filter, "weighed")
        return tree


def _filtered(node: nodes.Node | None, name: str) -> nodes.Filter:
    found = nodes.Filter(node, name, [], [], None, None)
    if node is not None:
        found.set_lineno(node.lineno)
    return found


def sandbox(
    load: Callable[[str], tuple[str, str, Callable[[], bool]] | None], filters: Mapping[str, Callable[..., object]]
) -> Sandbox:
    """The sandbox: no file, no code, every name must exist, everything is escaped.

    Args:
        load: Template name to its text, the place it stands at, and whether that is still so.
        filters: What the program does for templates. Of the template language's own filters only a few stay, none
            of which alters a text.
    """
    environment = Sandbox(
        loader=FunctionLoader(load), autoescape=True, undefined=StrictUndefined, trim_blocks=True, lstrip_blocks=True,
        keep_trailing_newline=True, auto_reload=False, cache_size=-1, optimized=False,
    )  # fmt: skip
    kept = {name: environment.filters[name] for name in _KEPT_FILTERS}
    environment.filters = {**kept, **filters, "counted": _counted, "weighed": _weighed}
    environment.globals.clear()
    return environment
